"""What does not hold at a node, which conflict speaks of it, and whether it was accepted."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.units import Unit
from trueup.lineage.files.records import BlockDraft, ParentRecord, Role
from trueup.lineage.replay.standing import inherited_conflicts, standing
from trueup.lineage.wardrobe import Wardrobe

BODY = {"bust": "88cm", "waist": "68cm", "back-length": "38cm", "sleeve-length": "54cm"}


def hollow(wardrobe: Wardrobe, node: str, by: str) -> None:
    change = read_change(kind_named("scoop-armhole"), {"piece": "front", "by": by}, Unit.MILLIMETRE)
    wardrobe.record(wardrobe.propose_steps(node, [change], Role.CORRECTION))


@pytest.fixture
def wardrobe(tmp_path: Path) -> Iterator[Wardrobe]:
    """A block whose sleeve became too small for its armhole, and a pattern that took both over."""
    with Wardrobe.start(tmp_path / "store", "store", "mm") as made:
        made.record(made.propose_block("block", BlockDraft("bust-proportion", BODY)))
        made.record(made.propose_child("shirt", [ParentRecord("block")]))
        hollow(made, "block", "20mm")
        yield made


def test_what_is_true_has_nothing_standing(wardrobe: Wardrobe) -> None:
    assert standing(wardrobe.evaluator_at("HEAD~1"), "block") == ()


def test_a_finding_names_the_conflict_that_speaks_of_it(wardrobe: Wardrobe) -> None:
    (found,) = standing(wardrobe.evaluator, "block")
    (conflict,) = wardrobe.state.open_conflicts
    assert found.conflict == conflict
    assert found.is_open


def test_a_pattern_that_took_both_over_shows_its_parents_conflict(wardrobe: Wardrobe) -> None:
    (found,) = standing(wardrobe.evaluator, "shirt")
    assert found.conflict is not None
    assert found.conflict.arose_at == "block"
    assert inherited_conflicts(wardrobe.evaluator, "shirt") == (found.conflict,)
    assert inherited_conflicts(wardrobe.evaluator, "block") == ()


def test_what_was_accepted_above_is_accepted_below(wardrobe: Wardrobe) -> None:
    (conflict,) = wardrobe.state.open_conflicts
    wardrobe.record(wardrobe.propose_decision(conflict.id, "accept", "soft cloth"))
    for node in ("block", "shirt"):
        (found,) = standing(wardrobe.evaluator, node)
        assert found.accepted
        assert not found.is_open
    assert inherited_conflicts(wardrobe.evaluator, "shirt") == ()


def test_what_a_pattern_made_worse_itself_is_not_accepted_above(wardrobe: Wardrobe) -> None:
    (conflict,) = wardrobe.state.open_conflicts
    wardrobe.record(wardrobe.propose_decision(conflict.id, "accept", "soft cloth"))
    hollow(wardrobe, "shirt", "10mm")
    (found,) = standing(wardrobe.evaluator, "shirt")
    assert found.is_open
    assert found.conflict is not None
    assert found.conflict.arose_at == "shirt"
