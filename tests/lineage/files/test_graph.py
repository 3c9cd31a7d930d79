import networkx as nx
import pytest

from tests.lineage.making import block, child
from tests.refusals import refusing
from trueup.lineage.errors import BadRecord, Cycle, MissingParent, NoSuchNode
from trueup.lineage.files import graph
from trueup.lineage.files.records import NodeRecord, ParentRecord
from trueup.lineage.limits import DEEPEST_LINEAGE

STORE = (
    block("village"),
    child("easy"),
    child("blouse", of="easy"),
    child("tunic", of="easy"),
    child("smock", of=[ParentRecord("blouse", ("front", "back")), ParentRecord("tunic")]),
    block("other"),
)


def of(*nodes: NodeRecord) -> "nx.DiGraph[str]":
    follows = {node.name: [each.name for each in node.followed] for node in nodes}
    return graph.graph_of({node.name: node for node in nodes}, follows)


def test_arrows_run_from_parent_to_child():
    assert sorted(of(*STORE).edges) == [
        ("blouse", "smock"),
        ("easy", "blouse"),
        ("easy", "tunic"),
        ("tunic", "smock"),
        ("village", "easy"),
    ]


def test_parents_come_before_children_and_equals_by_the_alphabet():
    arrows = of(*reversed(STORE))
    assert graph.in_order(arrows, arrows.nodes) == (
        "other",
        "village",
        "easy",
        "blouse",
        "tunic",
        "smock",
    )
    assert graph.in_order(arrows, ["smock", "easy"]) == ("easy", "smock")


def test_descendants_are_listed_once_and_leave_out_where_they_start():
    arrows = of(*STORE)
    assert graph.descendants(arrows, ["easy"]) == ("blouse", "tunic", "smock")
    assert graph.descendants(arrows, ["easy", "blouse"]) == ("tunic", "smock")
    assert graph.descendants(arrows, []) == ()


def test_all_ways_between_two_nodes_are_found():
    arrows = of(*STORE)
    assert graph.lineage_between(arrows, "easy", "smock") == ("easy", "blouse", "tunic", "smock")
    assert graph.lineage_between(arrows, "blouse", "smock") == ("blouse", "smock")
    assert graph.lineage_between(arrows, "blouse", "blouse") == ("blouse",)


def test_a_missing_parent_is_named_with_the_nearest_there_are():
    with pytest.raises(MissingParent) as caught:
        of(block("village"), child("blouse", of="vilage"))
    assert caught.value.place == "patterns/blouse.toml"
    assert caught.value.parent == "vilage"
    assert caught.value.nearest == ("village",)
    assert '"vilage"' in str(caught.value)


@pytest.mark.parametrize("ring", [["blouse"], ["blouse", "tunic"], ["a", "b", "c", "d"]])
def test_a_ring_of_parents_names_who_chases_whom(ring: list[str]):
    nodes = [child(name, of=ring[index - 1]) for index, name in enumerate(ring)]
    with pytest.raises(Cycle) as caught:
        of(block("village"), *nodes)
    assert sorted(caught.value.nodes) == sorted(ring)
    assert " -> " in str(caught.value)


def test_a_family_may_be_a_hundred_patterns_deep_and_no_deeper():
    def line(length: int) -> list[NodeRecord]:
        names = ["village", *(f"p{number}" for number in range(length))]
        return [block(), *(child(name, of=names[i]) for i, name in enumerate(names[1:]))]

    assert len(of(*line(DEEPEST_LINEAGE))) == DEEPEST_LINEAGE + 1
    with refusing(BadRecord, match="more than 100 patterns below"):
        of(*line(DEEPEST_LINEAGE + 1))


def test_an_unknown_node_names_the_nearest_or_those_there_are():
    nodes = {node.name: node for node in STORE}
    assert graph.node_named(nodes, "easy") is nodes["easy"]
    with pytest.raises(NoSuchNode) as caught:
        graph.node_named(nodes, "tunik")
    assert caught.value.nearest == ("tunic",)
    with pytest.raises(NoSuchNode) as caught:
        graph.node_named(nodes, "zzz")
    assert set(caught.value.nearest) == set(nodes)
    with pytest.raises(NoSuchNode, match="empty"):
        graph.node_named({}, "zzz")
