"""Choosing one maker's way, also where the file that offers it is a stranger's."""

from typing import Any

import pytest

from tests.lineage.making import BODY, block, child, state, step
from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.reading import read_node
from trueup.lineage.files.records import BlockDraft, NodeRecord, ParentRecord, Remedy
from trueup.lineage.files.writing import node_text
from trueup.lineage.merging.states import merge_states
from trueup.lineage.replay.curing.choosing import chosen


def asked(*sides: NodeRecord) -> tuple[NodeRecord, Any]:
    """Return the merged node as its file holds it, and its question."""
    parents = () if sides[0].draft else (block(),)
    merged = merge_states(*(state(*parents, each) for each in sides))
    node = merged.state.node(sides[0].name)
    node = read_node(node.path, node_text(node))
    (question,) = node.open_conflicts
    return node, question


def choose(node: NodeRecord, question: Any, name: str) -> NodeRecord:
    (remedy,) = (each for each in question.remedies if each.name == name)
    return chosen(node, question, remedy, Unit.MILLIMETRE)[0]


def test_the_measurements_of_either_maker_can_be_chosen():
    bodies = ({}, {"bust": "90cm"}, {"bust": "92cm"})
    node, question = asked(
        *(NodeRecord("v", True, draft=BlockDraft("bust-proportion", {**BODY, **b})) for b in bodies)
    )
    assert choose(node, question, "keep-ours").draft.body["bust"] == "90cm"  # type: ignore[union-attr]
    assert choose(node, question, "keep-theirs").draft.body["bust"] == "92cm"  # type: ignore[union-attr]


def test_the_parent_of_either_maker_can_be_chosen():
    versions = (None, "a" * 40, "b" * 40)
    node, question = asked(
        *(child("vest", of=[ParentRecord("village", ("front",), v)]) for v in versions)
    )
    assert choose(node, question, "keep-theirs").parents == (
        ParentRecord("village", ("front",), "b" * 40),
    )


def test_a_position_and_an_amount_come_back_from_the_file_as_they_were():
    sides = [
        step("s", "scoop-armhole", piece="front", by=by, at="40% from underarm")
        for by in ("5mm", "8mm", "12mm")
    ]
    node, question = asked(*(block("village", each) for each in sides))
    assert choose(node, question, "keep-theirs").steps == (sides[2],)


@pytest.mark.parametrize(
    "values",
    [
        {"step": 3},
        {"step": "s", "version": "x"},
        {"step": "s", "values": [1]},
        {"drop": "s"},
        {"drop": [1]},
        {"parents": [{"hold": "x"}]},
        {"parents": [{"name": "village", "hold": "../../etc"}]},
        {"parents": [{"name": "village", "pieces": []}]},
        {"draft": {"bust": "1cm"}},
        {"draft": {"system": 1}},
        {"step": "s", "values": {"by": "wide"}},
    ],
)
def test_a_remedy_that_says_something_else_is_refused(values):
    node, question = asked(
        *(
            block("village", step("s", "scoop-armhole", piece="front", by=by))
            for by in ("5mm", "8mm", "12mm")
        )
    )
    remedy = Remedy("keep-ours", kind="scoop-armhole", values=values)
    with pytest.raises((BadRecord, GeometryError)):
        chosen(node, question, remedy, Unit.MILLIMETRE)
