import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.corners import amounts
from tests.geometry.changes.tape_measure import sewn_length
from tests.geometry.changes.trousers.cases import (
    BACK,
    BOTH,
    FRONT,
    bench,
    fork_angle,
    trouser_drafts,
    trousers,
)
from tests.lineage.making import change, pattern
from tests.refusals import refusing
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measure
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


@given(trouser_drafts(), amounts(-12, 30), st.sampled_from(("legs", FRONT, BACK)))
@settings(max_examples=20)
def test_the_fork_reaches_further_and_the_inseam_keeps_its_length(
    draft: Draft, by: float, piece: str
) -> None:
    if not by:
        return
    after = change("extend-crotch", by=f"{by}mm", piece=piece).apply(draft)
    assert check(after) == ()
    assert fork_angle(after) == pytest.approx(180, abs=0.01)
    for name in BOTH:
        old, new = draft.piece(name), after.piece(name)
        if piece not in ("legs", name):
            assert new is old
            continue
        crease = 1 if old.corner("fork").real > 0 else -1
        step = new.corner("fork") - old.corner("fork")
        assert step.real * crease == pytest.approx(by, abs=1e-6)
        assert abs(step.imag) < 0.8 * abs(by) + 0.5
        same = sewn_length(new.edge("inseam")) - sewn_length(old.edge("inseam"))
        assert same == pytest.approx(0, abs=0.01)
        crotch = sewn_length(new.edge("crotch")) - sewn_length(old.edge("crotch"))
        assert crotch * by > 0
        for edge in ("waist", "side", "hem"):
            assert new.edge(edge) is old.edge(edge)
        below_knee = measure(after, f"{name}.knee-width") - measure(draft, f"{name}.knee-width")
        assert below_knee == pytest.approx(0, abs=1e-3)


def test_what_cannot_be_is_refused() -> None:
    with refusing(
        CannotChange,
        match=r"^extend-crotch cannot be done on trouser-front\.crotch: .* only 0 mm of the",
    ):
        change("extend-crotch", by="-90mm").apply(trousers())


def test_it_is_told_in_words() -> None:
    told = change("extend-crotch", by="10mm", piece=BACK).in_words(Unit.MILLIMETRE)
    assert told == "lengthen the fork of the trouser-back by 10 mm"


def test_a_longer_fork_of_the_block_arrives_in_a_pattern() -> None:
    style = change("shape-leg", by="-60mm", knee="-20mm")
    made = bench(style)
    was = made.measure("pants", f"{BACK}.fork-width")
    correction = change("extend-crotch", by="8mm", piece=BACK)
    found = made.correct("village", correction)
    assert pattern(found, "pants").verdict is Verdict.CARRIED
    assert made.measure("pants", f"{BACK}.fork-width") - was == pytest.approx(8, abs=0.1)
    by_hand = style.apply(correction.apply(trousers()))
    assert made.evaluator.draft("pants").piece(BACK).outline_points == (
        by_hand.piece(BACK).outline_points
    )
