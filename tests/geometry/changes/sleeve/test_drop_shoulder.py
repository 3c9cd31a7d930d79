import numpy as np
import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.corners import across_the_shoulder, across_the_sleeve_seam, amounts
from tests.fair import closed_points
from tests.geometry.changes.tape_measure import sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes.sleeve.drop_shoulder import DropShoulder
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


def drop(draft: Draft, by: float, ease: float = 5.0, **more: object) -> Draft:
    return DropShoulder(by=by, ease=ease, **more).apply(draft)


def loose(draft: Draft) -> Draft:
    wider = change("add-ease", by="80mm").apply(draft)
    return change("lower-armhole", by="25mm").apply(wider)


def height(sleeve: Piece) -> float:
    """Return how far the cap rises above its ends, sampled."""
    points = closed_points(sleeve.edge("cap"))
    return float(max(points[0].imag, points[-1].imag) - points.imag.min())


@given(drafts(), amounts(5, 45), amounts(0, 12))
@settings(max_examples=30, deadline=None)
def test_the_shoulder_gains_what_the_cap_loses_and_the_cap_fits(
    draft: Draft, by: float, ease: float
) -> None:
    before = loose(draft)
    after = drop(before, by, ease)
    assert_sound(after)
    for name in ("front", "back"):
        was, now = (each.piece(name) for each in (before, after))
        gained = sewn_length(now.edge("shoulder")) - sewn_length(was.edge("shoulder"))
        assert gained == pytest.approx(by, abs=0.01)
        for corner in ("neck-point", "underarm"):
            assert now.corner(corner) == was.corner(corner)
    assert across_the_shoulder(after, "shoulder-point") == pytest.approx(
        across_the_shoulder(before, "shoulder-point"), abs=0.01
    )
    was, now = (each.piece("sleeve") for each in (before, after))
    assert height(was) - height(now) == pytest.approx(by, abs=0.05)
    armhole = sum(sewn_length(after.edge(name, "armhole")) for name in ("front", "back"))
    assert sewn_length(now.edge("cap")) - armhole == pytest.approx(ease, abs=0.05)
    seams = [sewn_length(now.edge(name)) for name in ("back-seam", "front-seam")]
    assert seams[0] == pytest.approx(seams[1], abs=0.02)
    assert now.edge("hem") == was.edge("hem")
    assert across_the_sleeve_seam(after) == pytest.approx(180, abs=4)
    assert check(after) == ()


@given(drafts(), amounts(5, 45))
@settings(max_examples=15, deadline=None)
def test_shoulder_and_sleeve_together_are_as_long_as_they_were(draft: Draft, by: float) -> None:
    before = loose(draft)
    after = drop(before, by)

    def reach(each: Draft) -> float:
        sleeve = each.piece("sleeve")
        crown = closed_points(sleeve.edge("cap")).imag.min()
        return sewn_length(each.edge("front", "shoulder")) + sleeve.corner("hem-back").imag - crown

    assert reach(after) == pytest.approx(reach(before), abs=0.05)


def test_the_seam_is_stated_anew_half_by_half() -> None:
    after = drop(loose(block()), 40, 6)
    sewn = walk(after, after.seam("armhole-seam"))
    assert (sewn.seam.allowed.low, sewn.seam.allowed.high) == (0, 12)
    assert sum(part.ease for part in sewn.sections) == pytest.approx(6, abs=1e-3)
    assert all(part.matches for part in sewn.sections)


def test_notches_still_match_those_of_the_armhole() -> None:
    after = drop(loose(block()), 35)
    sleeve, front = after.piece("sleeve"), after.piece("front")
    cap, armhole = sleeve.edge("cap"), front.edge("armhole")
    (one,) = [n for n in sleeve.notches if n.name == "front"]
    (other,) = [n for n in front.notches if n.name == "front"]
    assert one.at.along(cap) == pytest.approx(armhole.length - other.at.along(armhole), abs=1e-3)


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = drop(loose(block()), 30, side="left")
    lengths = [sewn_length(after.edge(f"{side}-back", "shoulder")) for side in ("left", "right")]
    assert lengths[0] - lengths[1] == pytest.approx(30, abs=0.01)


# --- what is refused ------------------------------------------------------------------------------


def test_too_far_for_the_armhole_is_refused_with_the_farthest() -> None:
    with refusing(CannotChange, match="back and forth.*as far as") as refused:
        drop(block(), 60)
    largest = refused.value.largest
    assert largest is not None
    assert largest > 30
    assert check(drop(block(), largest)) == ()
    assert drop(loose(block()), largest + 5)


def test_without_a_sleeve_there_is_none_to_lower() -> None:
    with pytest.raises(NoSuchName):
        drop(block().only(["front", "back"]), 20)
    low = change("raise-cap", by="-110mm").apply(block())
    with refusing(CannotChange, match="cap line would come too near"):
        drop(low, 40)


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change("drop-shoulder", by="40mm", ease="8mm", side="left")
    assert told.in_words(Unit.CENTIMETRE) == (
        "drop the shoulder by 4 cm with ease 0.8 cm on the left"
    )


STEPS = (
    step("a1", "add-ease", by="80mm"),
    step("l1", "lower-armhole", by="25mm"),
    step("d1", "drop-shoulder", by="40mm"),
)


def test_a_correction_of_the_block_arrives_or_is_overwritten_as_the_verdict_says() -> None:
    for correction, verdict in (
        (change("shorten-shoulder", by="4mm"), Verdict.CARRIED),
        (change("raise-cap", by="5mm"), Verdict.CARRIED),
        (change("lower-armhole", by="8mm"), Verdict.CARRIED),
    ):
        bench = Bench(state(block_node(), child("dropped", *STEPS)))
        village = bench.evaluator.draft("village")
        by_hand = drop(loose(correction.apply(village)), 40)
        found = bench.correct("village", correction)
        came = bench.evaluator.draft("dropped")
        for piece in ("front", "back", "sleeve"):
            assert largest_shift(came.piece(piece), by_hand.piece(piece)) < 0.01
        assert pattern(found, "dropped").verdict is verdict
        assert not bench.open_at("dropped")
        assert np.isclose(bench.measure("dropped", "sleeve.cap-ease"), 5, atol=0.01)
