"""Where two darts share above what one does here, the amount is asked for, never assumed."""

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.lineage.making import step
from tests.lineage.promotion.families import (
    AS_IS,
    ASKED_NOTHING,
    SCALED,
    correction,
    family,
    moved,
    of,
    scoop,
)
from trueup.geometry.errors import NoSuchName
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import Role, StepRecord
from trueup.lineage.promotion.amounts import Wish, steps_above
from trueup.lineage.promotion.errors import AmountAsked
from trueup.lineage.promotion.moving import Moving, moving
from trueup.lineage.promotion.promoting import promote
from trueup.lineage.replay.verdicts import Verdict

RELEASED = (
    step("none", "release-dart", dart="front.waist-side"),
    step("more", "deepen-dart", dart="front.waist", by="15mm"),
)


def deeper(dart: str = "front.waist", by: str = "6mm") -> StepRecord:
    return correction("deeper", "deepen-dart", dart=dart, by=by)


def test_a_dart_that_is_the_same_above_needs_no_question() -> None:
    result, after, _ = moved(family(deeper()), "deeper")
    assert result.is_exact
    assert after.state.node("village").step("deeper") == deeper()


def test_where_two_darts_share_what_one_does_here_the_amount_is_asked_for() -> None:
    start = family(*RELEASED, deeper())
    with pytest.raises(AmountAsked) as asked:
        promote(Evaluator(start), "blouse", "deeper", "village")
    assert str(asked.value) == (
        "In village front.waist and front.waist-side share what front.waist takes in alone in "
        "blouse, so say how much of the correction belongs there: as it is, scaled to what it does "
        "here, or another amount."
    )


def test_as_is_keeps_the_amount_and_by_gives_another() -> None:
    start = family(*RELEASED, deeper())
    _, after, _ = moved(start, "deeper", "village", AS_IS)
    assert after.state.node("village").steps == (deeper(),)
    _, after, _ = moved(start, "deeper", "village", Wish(by=2.5))
    assert after.state.node("village").steps[0].values == {"dart": "front.waist", "by": "2.5mm"}


def test_scaled_leaves_the_measure_of_the_pattern_as_it_is() -> None:
    start = family(*RELEASED, deeper())
    target = Evaluator(start).summary("blouse").measures["front.waist.intake"]
    _, after, found = moved(start, "deeper", "village", SCALED)
    assert after.summary("blouse").measures["front.waist.intake"] == pytest.approx(target, abs=1e-4)
    assert of(found, "blouse").verdict is Verdict.CARRIED


@settings(max_examples=25)
@given(st.integers(3, 14), st.integers(1, 14), st.booleans())
def test_scaled_solves_any_amount(by: int, wide: int, by_intake: bool) -> None:
    own = (step("long", "lengthen", by="80mm"), scoop("scoop", f"{by}mm"))
    easy = (step("wide", "slope-shoulder", by=f"{wide}mm"),) if by_intake else ()
    start = family(*own, easy=easy)
    measure = "front.chest-width"
    target = Evaluator(start).summary("blouse").measures[measure]
    _, after, _ = moved(start, "scoop", "village", SCALED)
    assert after.summary("blouse").measures[measure] == pytest.approx(target, abs=1e-3)


def on_dart_of_its_own() -> tuple[Evaluator, Moving]:
    """A correction of a dart that the blouse has and no ancestor does, by name."""
    evaluator = Evaluator(family(deeper()))
    move = moving(evaluator, "blouse", "deeper")
    own = change_of(deeper("front.extra"), Unit.MILLIMETRE)
    return evaluator, dataclasses.replace(move, changes=(own,))


@pytest.mark.parametrize("wish", [ASKED_NOTHING, AS_IS, SCALED, Wish(dart="front.waist")])
def test_a_dart_that_no_ancestor_has_is_asked_for_with_its_amount(wish: Wish) -> None:
    evaluator, move = on_dart_of_its_own()
    with pytest.raises(
        AmountAsked, match=r"village has no dart front\.extra \(it has .* which takes"
    ):
        steps_above(evaluator, move, evaluator.state.node("village"), wish)


def test_the_maker_may_name_the_dart_that_takes_it() -> None:
    evaluator, move = on_dart_of_its_own()
    village = evaluator.state.node("village")
    (made,) = steps_above(evaluator, move, village, Wish(as_is=True, dart="front.waist-side"))
    assert made.values == {"dart": "front.waist-side", "by": "6mm"}
    assert (made.id, made.role) == ("deeper", Role.CORRECTION)
    with pytest.raises(NoSuchName, match=r'"front\.lapel" is not a dart of village'):
        steps_above(evaluator, move, village, Wish(as_is=True, dart="front.lapel"))
