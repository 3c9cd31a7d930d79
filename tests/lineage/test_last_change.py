"""Which version is the one before a node last changed."""

from pathlib import Path

import pytest

from tests.lineage.recording import undo
from trueup.geometry.changes import read_change
from trueup.geometry.changes.base import kind_named
from trueup.geometry.units import Unit
from trueup.lineage.files.records import BlockDraft, ParentRecord, Role
from trueup.lineage.last_change import before_last_change
from trueup.lineage.wardrobe import Wardrobe

BODY = {"bust": "88cm", "waist": "68cm", "back-length": "38cm", "sleeve-length": "54cm"}


def found(wardrobe: Wardrobe, node: str, until: str = "HEAD") -> str | None:
    now = wardrobe.evaluator_at(until)
    return before_last_change(wardrobe, now, node, until)


def lowered(wardrobe: Wardrobe, node: str, by: str) -> str:
    values = {"piece": "front", "by": by}
    change = read_change(kind_named("lower-neck"), values, Unit.MILLIMETRE)
    return wardrobe.record(wardrobe.propose_steps(node, [change], Role.STYLE))


@pytest.fixture
def wardrobe(tmp_path: Path):
    with Wardrobe.start(tmp_path / "w", "w", "cm") as started:
        started.record(started.propose_block("village", BlockDraft("bust-proportion", BODY)))
        started.record(started.propose_child("blouse", [ParentRecord("village")]))
        yield started


def test_a_node_that_is_as_it_was_made_has_none(wardrobe):
    assert found(wardrobe, "village") is None
    assert found(wardrobe, "blouse") is None


def test_a_step_on_an_ancestor_counts_and_one_on_a_descendant_does_not(wardrobe):
    base = wardrobe.head
    arrived = lowered(wardrobe, "village", "5mm")
    lowered(wardrobe, "blouse", "20mm")
    assert found(wardrobe, "village") == base
    assert found(wardrobe, "blouse") == arrived
    assert found(wardrobe, "blouse", arrived) == base


def test_a_step_taken_back_is_a_change_as_well(wardrobe):
    made = lowered(wardrobe, "village", "5mm")
    undo(wardrobe)
    assert found(wardrobe, "village") == made


def test_a_version_is_found_as_the_maker_names_it(wardrobe):
    assert wardrobe.commit().id == wardrobe.head
    assert wardrobe.commit(wardrobe.head[:10]).id == wardrobe.head
