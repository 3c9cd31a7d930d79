import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import across_the_sleeve_seam, amounts, corner_degrees
from tests.fair import closed_points, smallest_radius
from tests.geometry.changes.tape_measure import assert_same_lengths, sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes.sleeve.puff_cap import PuffCap
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


def puff(draft: Draft, by: float, height: float = 0.0, slashes: int = 5, **more: object) -> Draft:
    return PuffCap(by=by, height=height, slashes=float(slashes), **more).apply(draft)


def height(sleeve: Piece) -> float:
    """Return how far the cap rises above the line between its ends, sampled."""
    points = closed_points(sleeve.edge("cap"))
    way = points[-1] - points[0]
    return float(np.abs(((points - points[0]) / (way / abs(way))).imag).max())


@given(drafts(), amounts(20, 140), amounts(0, 50), st.integers(2, 8))
@settings(max_examples=40, deadline=None)
def test_the_armhole_and_all_edges_but_the_cap_stay_and_the_cap_is_fair(
    draft: Draft, by: float, up: float, slashes: int
) -> None:
    after = puff(draft, by, up, slashes)
    assert_sound(after)
    assert_same_lengths(draft, after, "sleeve.cap", within=0.2)
    assert all(after.piece(name) is draft.piece(name) for name in ("front", "back"))
    was, now = draft.piece("sleeve"), after.piece("sleeve")
    for edge in was.edges:
        corner = edge.starts_at
        assert corner_degrees(now, corner) == pytest.approx(corner_degrees(was, corner), abs=1e-3)
    assert across_the_sleeve_seam(after) == pytest.approx(180, abs=0.1)
    assert smallest_radius(closed_points(now.edge("cap"))) > 15
    underarms = now.corner("back-underarm") - now.corner("front-underarm")
    assert underarms.imag == pytest.approx(0, abs=1e-6)
    assert check(after) == ()


@given(drafts(), amounts(20, 140), amounts(5, 50))
@settings(max_examples=25, deadline=None)
def test_the_crown_rises_by_the_height_above_what_the_spread_made_of_it(
    draft: Draft, by: float, up: float
) -> None:
    flat, raised = (puff(draft, by, each).piece("sleeve") for each in (0.0, up))
    assert height(raised) - height(flat) == pytest.approx(up, abs=0.01)
    ends = [closed_points(each.edge("cap")) for each in (flat, raised)]
    for one, other in (ends, [points[::-1] for points in ends]):
        # Below the notches the two caps are one.
        reach = one[np.cumsum(np.abs(np.diff(one, prepend=one[0]))) < 55]
        assert np.abs(reach[:, None] - other[None, :]).min(axis=1).max() < 0.3


@given(drafts(), amounts(20, 140))
@settings(max_examples=25, deadline=None)
def test_below_the_notches_the_cap_matches_its_armhole_as_it_did(draft: Draft, by: float) -> None:
    after = puff(draft, by, 20)
    for name in ("front", "back-upper", "back-lower"):
        was, now = (
            next(n for n in d.piece("sleeve").notches if n.name == name) for d in (draft, after)
        )
        assert now.at.corner == was.at.corner
        assert now.at.distance == pytest.approx(was.at.distance, abs=1e-9)


@given(drafts(), amounts(20, 140), amounts(0, 50))
@settings(max_examples=25, deadline=None)
def test_what_the_cap_gains_is_asked_for_in_all_and_in_each_half(
    draft: Draft, by: float, up: float
) -> None:
    after = puff(draft, by, up)
    gained = sewn_length(after.edge("sleeve", "cap")) - sewn_length(draft.edge("sleeve", "cap"))
    was, now = (walk(each, each.seam("armhole-seam")) for each in (draft, after))
    assert now.seam.allowed.low - was.seam.allowed.low == pytest.approx(0.9 * gained, abs=0.05)
    assert now.seam.allowed.high - was.seam.allowed.high == pytest.approx(1.1 * gained, abs=0.05)
    for old, new in zip(was.sections, now.sections, strict=True):
        more = new.section.allowed.low - old.section.allowed.low
        assert more == pytest.approx(0.9 * (new.ease - old.ease), abs=0.05)


def test_the_biceps_line_goes_with_the_underarm_points() -> None:
    after = puff(block(), 80).piece("sleeve")
    assert after.level("biceps").y == pytest.approx(after.corner("front-underarm").imag, abs=1e-9)


def test_the_gathers_lie_where_they_are_told_to() -> None:
    high = {
        "begins": Position("front-underarm", distance=150.0),
        "stops": Position("back-underarm", distance=150.0),
    }
    after = puff(block(), 60, 20, **high)
    front = next(n for n in after.piece("sleeve").notches if n.name == "front")
    old = next(n for n in block().piece("sleeve").notches if n.name == "front")
    assert front.at == old.at
    assert check(after) == ()


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = puff(block(), 60, 20, side="right")
    caps = [sewn_length(after.edge(f"{side}-sleeve", "cap")) for side in ("left", "right")]
    assert caps[1] - caps[0] > 40
    assert check(after) == ()


# --- what is refused ------------------------------------------------------------------------------


def test_places_beside_the_crown_are_refused() -> None:
    with refusing(CannotChange, match="the crown would not lie in what is puffed; choose a place"):
        puff(block(), 60, begins=Position("back-underarm", distance=150.0))
    with refusing(BadParameter, match="whole number"):
        PuffCap(by=60.0, slashes=2.5)
    with pytest.raises(NoSuchName):
        puff(block().only(["front", "back"]), 60)


def test_too_much_is_refused_with_the_largest_that_fits() -> None:
    with refusing(CannotChange, match="its amount can go as far as") as refused:
        puff(block(), 600, 0, 1)
    largest = refused.value.largest
    assert largest is not None
    assert largest > 60
    assert_sound(puff(block(), largest, 0, 1))


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change("puff-cap", by="80mm", height="30mm", side="left")
    assert (
        told.in_words(Unit.CENTIMETRE)
        == "puff the sleeve cap, 8 cm wider and 3 cm higher on the left"
    )
    assert (
        change("puff-cap", by="80mm").in_words(Unit.MILLIMETRE)
        == "puff the sleeve cap, 80 mm wider"
    )


PUFF = {"by": "80mm", "height": "25mm"}


def test_a_correction_of_the_block_comes_to_the_puff_as_if_it_was_made_first() -> None:
    for correction in (
        change("raise-cap", by="5mm"),
        change("lengthen", piece="sleeve", by="-15mm"),
        change("scoop-armhole", piece="front", by="4mm"),
    ):
        bench = Bench(state(block_node(), child("puffed", step("p1", "puff-cap", **PUFF))))
        by_hand = change("puff-cap", **PUFF).apply(
            correction.apply(bench.evaluator.draft("village"))
        )
        found = bench.correct("village", correction)
        came = bench.evaluator.draft("puffed").piece("sleeve")
        assert largest_shift(came, by_hand.piece("sleeve")) < 0.01
        assert pattern(found, "puffed").verdict is Verdict.CARRIED
        assert not bench.open_at("puffed")


def test_a_correction_that_eats_up_the_puff_is_a_conflict_with_a_remedy() -> None:
    bench = Bench(state(block_node(), child("puffed", step("p1", "puff-cap", **PUFF))))
    bench.correct("puffed", change("lower-armhole", by="22mm"))
    conflict = bench.conflict_at("puffed")
    assert (conflict.kind, conflict.piece) == ("seam", "sleeve")
    assert {each.kind for each in conflict.remedies} & {"refit-cap"}
