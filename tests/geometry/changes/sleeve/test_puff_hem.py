import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import amounts, corner_degrees
from tests.fair import closed_points, smallest_radius
from tests.geometry.changes.tape_measure import assert_same_lengths, sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes.sleeve.puff_hem import PuffHem
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

CUFF = change("draft-band", to="sleeve.hem", name="cuff", height="60mm")


def puff(draft: Draft, by: float, dip: float = 0.0, slashes: int = 4, **more: object) -> Draft:
    return PuffHem(by=by, dip=dip, slashes=float(slashes), **more).apply(draft)


def lowest(sleeve: Piece) -> tuple[float, float]:
    """Return how far the hem lies below its ends at the most, and at which share, sampled."""
    points = closed_points(sleeve.edge("hem"))
    down = points.imag - max(points[0].imag, points[-1].imag)
    along = np.cumsum(np.abs(np.diff(points, prepend=points[0])))
    at = int(down.argmax())
    return float(down[at]), float(along[at] / along[-1])


@given(drafts(), amounts(80, 250), amounts(0, 22), st.integers(2, 8))
@settings(max_examples=40, deadline=None)
def test_the_hem_gains_the_amount_dip_and_all_and_other_edges_stay(
    draft: Draft, by: float, dip: float, slashes: int
) -> None:
    after = puff(draft, by, dip, slashes)
    assert_sound(after)
    gained = sewn_length(after.edge("sleeve", "hem")) - sewn_length(draft.edge("sleeve", "hem"))
    assert gained == pytest.approx(by, abs=0.05)
    assert_same_lengths(draft, after, "sleeve.hem", within=0.2)
    was, now = draft.piece("sleeve"), after.piece("sleeve")
    for edge in was.edges:
        corner = edge.starts_at
        assert corner_degrees(now, corner) == pytest.approx(corner_degrees(was, corner), abs=1e-3)
    assert now.corner("hem-back").imag == pytest.approx(now.corner("hem-front").imag, abs=1e-6)
    assert smallest_radius(closed_points(now.edge("hem"))) > 50
    assert check(after) == ()


@given(drafts(), amounts(80, 250), amounts(12, 22))
@settings(max_examples=25, deadline=None)
def test_the_hem_dips_by_so_much_more_behind_and_not_at_its_seams(
    draft: Draft, by: float, dip: float
) -> None:
    flat, dipped = (puff(draft, by, each).piece("sleeve") for each in (0.0, dip))
    deep, at = lowest(dipped)
    assert deep - lowest(flat)[0] < dip + 0.1
    assert at == pytest.approx(0.38, abs=0.08)
    # The spread hem is a shallow bow of its own: at the lowest place all of the dip is added.
    points = closed_points(flat.edge("hem"))
    share = np.cumsum(np.abs(np.diff(points, prepend=points[0])))
    bow = np.interp(0.35, share / share[-1], points.imag) - points[0].imag
    new = closed_points(dipped.edge("hem"))
    across = np.interp(0.35, share / share[-1], points.real)
    order = np.argsort(new.real)
    there = np.interp(across, new.real[order], new.imag[order]) - new[0].imag
    assert there - bow == pytest.approx(dip, rel=0.12)


def test_the_back_is_the_lower_half() -> None:
    after = puff(block(), 120, 30).piece("sleeve")
    points = closed_points(after.edge("hem"))
    # In the order of the outline the hem runs from the back seam to the front one.
    quarter = len(points) // 4
    assert points[:quarter].imag.mean() > points[-quarter:].imag.mean()


# --- what it is sewn to ---------------------------------------------------------------------------


@given(drafts(), amounts(80, 200), amounts(0, 22), st.floats(0.5, 1.0))
@settings(max_examples=15, deadline=None)
def test_a_cuff_before_it_keeps_its_length_and_its_seam_asks_for_the_gathers(
    draft: Draft, by: float, dip: float, share: float
) -> None:
    before = CUFF.apply(draft)
    after = puff(before, by, dip, least=share * by)
    lengths = [sewn_length(each.edge("cuff", "sewn-edge")) for each in (before, after)]
    assert lengths[0] == pytest.approx(lengths[1], abs=0.02)
    sewn = walk(after, after.seam("cuff-seam"))
    assert sewn.ease == pytest.approx(by, abs=0.02)
    assert sewn.seam.allowed.low == pytest.approx(share * by)
    assert check(after) == ()
    later = change("draft-band", to="sleeve.hem", name="cuff", height="60mm", gathers=f"{by}mm")
    sewn_later = later.apply(puff(draft, by, dip))
    assert sewn_length(sewn_later.edge("cuff", "sewn-edge")) == pytest.approx(lengths[0], abs=0.02)
    assert check(sewn_later) == ()


def test_a_bishop_is_puffed_above_and_below() -> None:
    after = change("puff-cap", by="70mm", height="20mm").apply(puff(CUFF.apply(block()), 120, 30))
    assert check(after) == ()
    assert walk(after, after.seam("cuff-seam")).ease == pytest.approx(120, abs=0.3)


# --- what is refused ------------------------------------------------------------------------------


def test_a_dip_that_would_wave_is_refused_with_the_deepest() -> None:
    with refusing(
        CannotChange, match="with a dip of 60 mm .* back and forth.*it can dip by at most"
    ):
        puff(block(), 100, 60)
    with refusing(
        CannotChange,
        match="with a dip of 30 mm the hem becomes longer by .* of itself; it can dip by at most",
    ):
        puff(block(), 5, 30)
    with refusing(
        CannotChange, match="lowest at a seam; choose a place from a tenth to nine tenths"
    ):
        puff(block(), 100, 30, at=Position("hem-back", distance=10.0))
    with refusing(BadParameter, match="least cannot be 80 mm: it is at most 60 mm"):
        PuffHem(by=60.0, least=80.0)


def test_too_much_is_refused_with_the_largest_that_fits() -> None:
    with refusing(CannotChange, match="its amount can go as far as") as refused:
        puff(block(), 1900, 0, 1)
    largest = refused.value.largest
    assert largest is not None
    assert largest > 100


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change("puff-hem", by="120mm", dip="30mm", side="left")
    assert told.in_words(Unit.CENTIMETRE) == (
        "puff the sleeve hem by 12 cm, dipped by 3 cm at the back on the left"
    )
    assert change("puff-hem", by="50mm").in_words(Unit.MILLIMETRE) == "puff the sleeve hem by 50 mm"


PUFF = {"by": "120mm", "dip": "25mm"}


def bishop(**more: str) -> Bench:
    cuff = step("c1", "draft-band", to="sleeve.hem", name="cuff", height="60mm")
    return Bench(state(block_node(), child("bishop", cuff, step("p1", "puff-hem", **PUFF, **more))))


def test_a_correction_of_the_block_comes_to_sleeve_and_cuff_as_if_it_was_made_first() -> None:
    for correction in (
        change("widen-sleeve", by="0mm", hem="16mm"),
        change("lengthen", piece="sleeve", by="-15mm"),
        change("refit-cap", to="28mm"),
    ):
        bench = bishop()
        by_hand = CUFF.apply(correction.apply(bench.evaluator.draft("village")))
        by_hand = change("puff-hem", **PUFF).apply(by_hand)
        found = bench.correct("village", correction)
        came = bench.evaluator.draft("bishop")
        for piece in ("sleeve", "cuff"):
            assert largest_shift(came.piece(piece), by_hand.piece(piece)) < 0.01
        assert pattern(found, "bishop").verdict is Verdict.CARRIED
        assert not bench.open_at("bishop")


def test_a_cuff_that_grows_into_the_gathers_is_a_conflict() -> None:
    bench = bishop(least="118mm")
    bench.correct("bishop", change("true-line", edge="cuff.sewn-edge", at="sewn-end", by="7mm"))
    conflict = bench.conflict_at("bishop")
    assert conflict.kind == "seam"
    assert conflict.allowed_mm == pytest.approx((118, 132), abs=0.01)
