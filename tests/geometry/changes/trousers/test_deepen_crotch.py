import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.corners import amounts
from tests.geometry.changes.tape_measure import sewn_length
from tests.geometry.changes.trousers.cases import (
    BOTH,
    FRONT,
    bench,
    fork_angle,
    trouser_drafts,
    trousers,
)
from tests.geometry.drafting.truth import corner_angle
from tests.lineage.making import change, pattern
from tests.refusals import refusing
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


@given(trouser_drafts(), amounts(-12, 18))
@settings(max_examples=20)
def test_the_leg_goes_down_as_it_is_and_all_above_the_hip_stays(draft: Draft, by: float) -> None:
    if not by:
        return
    after = change("deepen-crotch", by=f"{by}mm").apply(draft)
    assert check(after) == ()
    for name in BOTH:
        old, new = draft.piece(name), after.piece(name)
        for corner in ("fork", "hem-inseam", "hem-side"):
            assert new.corner(corner) - old.corner(corner) == pytest.approx(by * 1j, abs=1e-6)
        for edge in ("inseam", "hem"):
            grown = sewn_length(new.edge(edge)) - sewn_length(old.edge(edge))
            assert grown == pytest.approx(0, abs=1e-6)
        assert new.edge("waist") is old.edge("waist")
        for corner in ("waist-centre", "waist-side", "fork"):
            assert corner_angle(new, corner) == pytest.approx(corner_angle(old, corner), abs=0.01)
        assert new.level("hip") == old.level("hip")
        for level in ("crotch", "knee", "hem"):
            assert new.level(level).y == pytest.approx(old.level(level).y + by)


@given(trouser_drafts(), amounts(1, 18))
@settings(max_examples=12)
def test_sides_grow_alike_and_crotches_by_less_than_the_rise(draft: Draft, by: float) -> None:
    after = change("deepen-crotch", by=f"{by}mm").apply(draft)
    sides = [sewn_length(after.edge(name, "side")) for name in BOTH]
    assert sides[0] == pytest.approx(sides[1], abs=0.3)
    for name in BOTH:
        grown = sewn_length(after.edge(name, "side")) - sewn_length(draft.edge(name, "side"))
        assert grown == pytest.approx(by, rel=0.02, abs=0.1)
        crotch = sewn_length(after.edge(name, "crotch")) - sewn_length(draft.edge(name, "crotch"))
        assert 0.3 * by < crotch < 1.01 * by
    assert fork_angle(after) == pytest.approx(180, abs=0.01)


def test_what_cannot_be_is_refused() -> None:
    with refusing(CannotChange, match=r"the crotch lies only 79 mm below the hip; .* -39\.9 mm"):
        change("deepen-crotch", by="-70mm").apply(trousers())
    with pytest.raises(NoSuchName, match="inseam"):
        change("deepen-crotch", by="10mm").apply(block())


def test_it_is_told_in_words() -> None:
    assert change("deepen-crotch", by="10mm").in_words(Unit.MILLIMETRE) == (
        "deepen the crotch by 10 mm"
    )
    assert change("deepen-crotch", by="-10mm").in_words(Unit.MILLIMETRE) == (
        "raise the crotch by 10 mm"
    )


def test_a_deeper_crotch_of_the_block_arrives_in_a_pattern() -> None:
    style = change("shape-leg", by="80mm")
    made = bench(style)
    was = made.measure("pants", f"{FRONT}.fork-depth")
    correction = change("deepen-crotch", by="12mm")
    found = made.correct("village", correction)
    assert pattern(found, "pants").verdict is Verdict.CARRIED
    assert made.measure("pants", f"{FRONT}.fork-depth") - was == pytest.approx(12)
    by_hand = style.apply(correction.apply(trousers()))
    now = made.evaluator.draft("pants")
    assert now.piece(FRONT).outline_points == by_hand.piece(FRONT).outline_points
