"""A chain tried again: what was made is not made again, and what no step touched stays the same."""

from collections import Counter
from typing import Any

import pytest

from tests.lineage.making import block, child, state, step
from trueup.geometry.changes import Change
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import replace

BLOUSE = child(
    "blouse",
    step("b1", "lower-neck", piece="front", by="21mm"),
    step("b2", "shorten-shoulder", by="-4mm"),
    step("b3", "lengthen", by="73mm"),
)


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    counted: Counter[str] = Counter()
    really = Change.apply

    def apply(self: Any, draft: Draft) -> Draft:
        counted[self.kind] += 1
        return really(self, draft)

    monkeypatch.setattr(Change, "apply", apply)
    return counted


def test_with_another_last_step_only_that_is_made(made: Counter[str]) -> None:
    first = step("b1", "lower-neck", piece="front", by="22mm")
    for longer in ("73mm", "74mm"):
        steps = (first, BLOUSE.steps[1], step("b3", "lengthen", by=longer))
        Evaluator(state(block(), replace(BLOUSE, steps=steps))).stages("blouse")
    assert made == {"lower-neck": 1, "shorten-shoulder": 1, "lengthen": 2}


def test_it_comes_to_what_is_made_by_hand() -> None:
    for _ in range(2):
        stages = Evaluator(state(block(), BLOUSE)).stages("blouse")
        by_hand = stages[0].draft
        for stage in stages[1:]:
            assert stage.step
            by_hand = change_of(stage.step, Unit.MILLIMETRE).apply(by_hand)
            assert stage.draft == by_hand


def test_what_a_step_does_not_touch_is_the_same_object_before_and_after() -> None:
    """Of equal blocks, each drafted anew, and of other patterns made alike on them."""
    for name in ("blouse", "tunic"):
        stages = Evaluator(state(block(), replace(BLOUSE, name=name))).stages(name)
        before, after, *_ = (stage.draft for stage in stages)
        assert after.piece("front") != before.piece("front")
        assert after.piece("back") is before.piece("back")
        assert after.piece("sleeve") is before.piece("sleeve")
