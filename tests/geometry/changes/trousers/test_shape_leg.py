from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.corners import amounts
from tests.geometry.changes.tape_measure import sewn_length
from tests.geometry.changes.trousers.cases import BOTH, FRONT, bench, trouser_drafts, trousers
from tests.geometry.drafting.test_trousers import crossings
from tests.geometry.drafting.truth import corner_angle
from tests.lineage.making import change, pattern
from tests.refusals import refusing
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measure
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


@given(trouser_drafts(), amounts(-50, 200), st.integers(-30, 80))
@settings(max_examples=20)
def test_knee_and_hem_become_wider_and_the_crease_stays_the_middle(
    draft: Draft, by: float, knee: int
) -> None:
    if abs(by) < 2:
        return
    after = change("shape-leg", by=f"{by}mm", knee=f"{knee}mm").apply(draft)
    assert check(after) == ()
    hems = [sum(sewn_length(d.edge(name, "hem")) for name in BOTH) for d in (draft, after)]
    assert hems[1] - hems[0] == pytest.approx(by, abs=0.03 * abs(by) + 2.0)
    knees = [sum(measure(d, f"{name}.knee-width") for name in BOTH) for d in (draft, after)]
    assert knees[1] - knees[0] == pytest.approx(knee, abs=0.01)
    for name in BOTH:
        old, new = draft.piece(name), after.piece(name)
        level = new.level("knee").y
        lowest = min(new.corner("hem-side").imag, new.corner("hem-inseam").imag)
        for y in (level + 2, (level + lowest) / 2, lowest - 25):
            left, right = crossings(new, y)
            assert left + right == pytest.approx(0, abs=0.2)
        for edge in ("side", "inseam"):
            same = sewn_length(new.edge(edge)) - sewn_length(old.edge(edge))
            assert same == pytest.approx(0, abs=0.01)
        for edge in ("waist", "crotch"):
            assert new.edge(edge) is old.edge(edge)
        for corner in ("hem-side", "hem-inseam"):
            assert corner_angle(new, corner) == pytest.approx(corner_angle(old, corner), abs=0.01)
        assert new.corner("fork") == old.corner("fork")
        assert measure(after, f"{name}.hip-width") == pytest.approx(
            measure(draft, f"{name}.hip-width"), abs=1e-3
        )


def test_from_the_knee_down_seams_stay_straight() -> None:
    after = change("shape-leg", by="120mm").apply(trousers())
    for name in BOTH:
        piece = after.piece(name)
        knee, hem = piece.level("knee").y, piece.corner("hem-side").imag
        widths = [crossings(piece, knee + (hem - knee) * k / 5) for k in (0.01, 1, 2, 3, 4)]
        steps = [b[1] - a[1] for a, b in pairwise(widths[1:])]
        assert max(steps) - min(steps) < 0.1


def test_what_cannot_be_is_refused() -> None:
    with refusing(CannotChange, match=r"shape-leg cannot be done on trouser-front\.hem: .* as far"):
        change("shape-leg", by="-399mm").apply(trousers())
    with refusing(BadParameter, match="^by cannot be nothing"):
        change("shape-leg", by="0mm", knee="10mm")


def test_it_is_told_in_words() -> None:
    told = change("shape-leg", by="-40mm", knee="-10mm").in_words(Unit.CENTIMETRE)
    assert told == "taper the leg at the hem by 4 cm with knee -1 cm"


def test_a_wider_leg_of_the_block_arrives_in_a_pattern() -> None:
    style = change("lengthen", by="-120mm")
    made = bench(style)
    was = made.measure("pants", f"{FRONT}.knee-width")
    correction = change("shape-leg", by="40mm", knee="40mm")
    found = made.correct("village", correction)
    assert pattern(found, "pants").verdict is Verdict.CARRIED
    assert made.measure("pants", f"{FRONT}.knee-width") - was == pytest.approx(20, abs=0.05)
    by_hand = style.apply(correction.apply(trousers()))
    assert made.evaluator.draft("pants").piece(FRONT).outline_points == (
        by_hand.piece(FRONT).outline_points
    )
