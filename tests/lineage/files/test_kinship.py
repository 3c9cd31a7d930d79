"""Who follows whom: alike for nodes that were read and for those only known of."""

from collections.abc import Iterable, Mapping

import pytest

from tests.lineage.making import block, child
from trueup.lineage.errors import Cycle, MissingParent
from trueup.lineage.files.kept.kin import kin_of
from trueup.lineage.files.kept.nodes import KeptNodes
from trueup.lineage.files.records import NodeRecord, ParentRecord, Settings, replace
from trueup.lineage.files.state import State

STORE = (
    block("village"),
    child("easy"),
    child("blouse", of="easy"),
    child("tunic", of="easy"),
    child("smock", of=[ParentRecord("blouse", ("front", "back")), ParentRecord("tunic")]),
    block("other"),
)
IN_ORDER = ("other", "village", "easy", "blouse", "tunic", "smock")


def read(*nodes: NodeRecord) -> State:
    return State(Settings("theatre"), {node.name: node for node in nodes})


def kept(told: list[str]) -> State:
    """Return the same nodes, known of but not read; what is read is told."""

    def read_files(paths: Iterable[str]) -> Mapping[str, NodeRecord]:
        found = {node.path: node for node in STORE}
        wanted = list(paths)
        told.extend(wanted)
        return {path: found[path] for path in wanted}

    kin = {node.name: kin_of(node) for node in STORE}
    return State(Settings("theatre"), KeptNodes(kin, IN_ORDER, read_files, {}))


def test_both_tell_the_same_and_nothing_is_read_for_it() -> None:
    told: list[str] = []
    for state in (read(*STORE), kept(told)):
        assert state.in_order == IN_ORDER
        assert state.below(["easy"]) == ("blouse", "tunic", "smock")
        assert state.below(["easy", "blouse"]) == ("tunic", "smock")
        assert state.below([]) == ()
        assert state.parents_first(["smock", "easy", "blouse"]) == ("easy", "blouse", "smock")
        assert state.are_parents == {"village", "easy", "blouse", "tunic"}
    assert told == []


def test_what_may_differ_is_what_was_put_in_its_place() -> None:
    told: list[str] = []
    blouse = replace(STORE[2], steps=())
    for before in (read(*STORE), kept(told)):
        after = before.with_nodes([blouse])
        assert after.differing(before) == before.differing(after) == {"blouse"}
        assert before.differing(before) == set()
    assert told == []
    assert read(*STORE).with_nodes([blouse]).differing(kept([])) == {"blouse"}
    assert kept([]).with_nodes([blouse]).differing(read(*STORE)) == {"blouse"}


def test_a_node_that_is_gone_is_not_among_what_differs() -> None:
    assert read(*STORE[:4]).differing(read(*STORE)) == set()
    assert read(*STORE).differing(read(*STORE[:4])) == {"smock", "other"}


@pytest.mark.parametrize("of", [read(*STORE), kept([])], ids=["read", "kept"])
def test_a_step_that_makes_no_graph_of_them_is_refused(of: State) -> None:
    lost = of.with_nodes([child("tunic", of="eazy")])
    ring = of.with_nodes([child("easy", of="smock")])
    for ask in (lambda s: s.below(["village"]), lambda s: s.parents_first(["smock"])):
        with pytest.raises(MissingParent, match="eazy"):
            ask(lost)
        with pytest.raises(Cycle):
            ask(ring)
