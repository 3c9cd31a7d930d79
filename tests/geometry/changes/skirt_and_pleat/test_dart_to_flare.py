import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import corner_degrees
from tests.fair import closed_points, smallest_radius
from tests.geometry.changes.skirts import PIECES, skirt, skirt_node, skirts
from tests.geometry.changes.tape_measure import (
    angle,
    assert_same_lengths,
    cloth_area,
    sewn_length,
)
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from trueup.geometry.changes.skirt_and_pleat.dart_to_flare import DartToFlare
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

SHARES = st.sampled_from([0.25, 0.4, 0.5, 0.75, 1.0])


def dart_angle(draft: Draft, piece: str, dart: str = "waist") -> float:
    mouths = [m for e in draft.piece(piece).edges for m in e.mouths if m.dart.name == dart]
    return sum(angle(mouth) for mouth in mouths)


@given(skirts(), st.sampled_from(PIECES), SHARES)
@settings(max_examples=60, deadline=None)
def test_the_dart_loses_its_share_and_the_hem_swings_out_by_it(
    before: Draft, piece: str, share: float
) -> None:
    after = DartToFlare(dart=f"{piece}.waist", share=share).apply(before)
    assert_sound(after)
    was, now = before.piece(piece), after.piece(piece)
    turned = share * dart_angle(before, piece)
    assert dart_angle(after, piece) == pytest.approx(dart_angle(before, piece) - turned, abs=1e-9)
    assert_same_lengths(before, after, f"{piece}.hem")
    # The hem opens as a pair of compasses does, set at the pivot; the fair line bends a little.
    depth = was.corner("hem-side").imag - was.mouth("waist").dart.apex.imag
    opened = 2 * depth * np.sin(turned / 2)
    grown = sewn_length(now.edge("hem")) - sewn_length(was.edge("hem"))
    assert grown == pytest.approx(opened, rel=0.06)
    # The side turns by the angle, what holds the centre stays.
    ways = [each.corner("hem-side") - each.corner("waist-side") for each in (was, now)]
    assert abs(np.angle(ways[1] / ways[0])) == pytest.approx(turned, abs=1e-9)
    assert now.edge("centre") is was.edge("centre")
    assert now.grainline == was.grainline
    for edge in was.edges:
        corner = edge.starts_at
        assert corner_degrees(now, corner) == pytest.approx(corner_degrees(was, corner), abs=1e-3)
    assert cloth_area(now) > cloth_area(was)
    hem = closed_points(now.edge("hem"))
    assert smallest_radius(hem) > 150
    assert after.piece(PIECES[1 - PIECES.index(piece)]) is before.piece(
        PIECES[1 - PIECES.index(piece)]
    )


@given(skirts(), SHARES)
@settings(max_examples=30, deadline=None)
def test_flared_front_and_back_alike_it_checks_as_it_did(before: Draft, share: float) -> None:
    after = before
    for piece in PIECES:
        after = DartToFlare(dart=f"{piece}.waist", share=share).apply(after)
    assert {(each.code, each.piece, each.edge) for each in check(after)} <= {
        (each.code, each.piece, each.edge) for each in check(before)
    }


def test_two_shares_one_after_the_other_leave_the_dart_as_one_of_both() -> None:
    half = DartToFlare(dart="skirt-back.waist", share=0.5)
    twice = half.apply(half.apply(skirt()))
    once = DartToFlare(dart="skirt-back.waist", share=0.75).apply(skirt())
    assert dart_angle(twice, "skirt-back") == pytest.approx(dart_angle(once, "skirt-back"))
    for edge in ("waist", "side"):
        ends = [each.edge("skirt-back", edge).end for each in (twice, once)]
        assert abs(ends[0] - ends[1]) < 1e-9
    hems = [sewn_length(each.edge("skirt-back", "hem")) for each in (twice, once)]
    assert hems[0] == pytest.approx(hems[1], abs=1.0)


def test_a_bust_dart_becomes_swing_of_a_dress_front() -> None:
    dress = block()
    for piece in ("front", "back"):
        for dart in ("waist", "waist-side"):
            dress = change("release-dart", dart=f"{piece}.{dart}").apply(dress)
    dress = change("lengthen", by="450mm").apply(dress)
    dress = change("smooth-edge", edge="front.hem").apply(dress)
    after = DartToFlare(dart="front.bust").apply(dress)
    assert_sound(after)
    assert "bust" not in after.piece("front").dart_names
    assert_same_lengths(dress, after, "front.hem")
    assert sewn_length(after.edge("front", "hem")) > sewn_length(dress.edge("front", "hem")) + 150


def test_the_hem_is_slashed_where_it_is_said() -> None:
    at = "30% from hem-side"
    told = change("dart-to-flare", dart="skirt-front.waist", share=0.5, at=at)
    after, straight = told.apply(skirt()), DartToFlare(dart="skirt-front.waist", share=0.5)
    assert_sound(after)
    assert largest_shift(after.piece("skirt-front"), straight.apply(skirt()).piece("skirt-front"))
    assert told.in_words(Unit.MILLIMETRE) == (
        "turn 50% of the dart skirt-front.waist to flare at the hem, 30% of the way from the hem "
        "side"
    )
    assert straight.in_words(Unit.MILLIMETRE) == (
        "turn 50% of the dart skirt-front.waist to flare at the hem"
    )


def test_it_is_made_on_one_side_of_the_body() -> None:
    after = DartToFlare(dart="skirt-front.waist", side="left").apply(skirt())
    hems = [sewn_length(after.edge(f"{side}-skirt-front", "hem")) for side in ("left", "right")]
    assert hems[0] - hems[1] > 80


# --- what is refused ------------------------------------------------------------------------------


def test_a_dart_on_the_hem_and_one_in_the_way_are_refused() -> None:
    with refusing(CannotChange, match=r"dart waist(-side)? opens on the hem; lengthen"):
        DartToFlare(dart="front.bust").apply(block())
    long = change("lengthen", by="400mm").apply(block())
    with refusing(CannotChange, match=r"to the hem would run through the dart waist; turn"):
        DartToFlare(dart="front.bust").apply(long)
    with refusing(CannotChange, match="lies inside the piece and opens on no edge"):
        DartToFlare(dart="front.waist").apply(long)


def test_a_place_at_a_corner_of_the_hem_is_refused() -> None:
    with refusing(CannotChange, match="would end at a corner of the hem; choose another place"):
        change("dart-to-flare", dart="skirt-front.waist", at="1mm from hem-side").apply(skirt())


def test_a_share_that_leaves_no_dart_to_sew_is_refused() -> None:
    with refusing(CannotChange, match="nothing would be left of it; close the whole dart"):
        DartToFlare(dart="skirt-front.waist", share=0.99).apply(skirt())
    with pytest.raises(NoSuchName):
        DartToFlare(dart="skirt-front.bust").apply(skirt())


# --- in a wardrobe --------------------------------------------------------------------------------


def test_a_longer_block_and_a_deeper_dart_arrive_through_it() -> None:
    flares = [step(f"f{k}", "dart-to-flare", dart=f"{p}.waist", share=0.5) for k, p in
              enumerate(PIECES)]  # fmt: skip
    bench = Bench(state(skirt_node(), child("a-line", *flares, of="skirt")))
    for correction in (
        change("deepen-dart", dart="skirt-back.waist", by="6mm"),
        change("lengthen", by="80mm"),
    ):
        found = bench.correct("skirt", correction)
        told = pattern(found, "a-line")
        wanted = Verdict.PARTLY if correction.kind == "deepen-dart" else Verdict.CARRIED
        assert told.verdict is wanted
    core = skirt()
    for correction in (
        change("deepen-dart", dart="skirt-back.waist", by="6mm"),
        change("lengthen", by="80mm"),
    ):
        core = correction.apply(core)
    for piece in PIECES:
        core = DartToFlare(dart=f"{piece}.waist", share=0.5).apply(core)
    for piece in PIECES:
        replayed = bench.evaluator.draft("a-line").piece(piece)
        assert largest_shift(core.piece(piece), replayed) < 0.01


def test_flare_given_to_the_block_is_judged_by_its_dart() -> None:
    bench = Bench(state(skirt_node(), child("long", step("l", "lengthen", by="200mm"), of="skirt")))
    found = bench.correct("skirt", change("dart-to-flare", dart="skirt-back.waist", share=0.5))
    assert pattern(found, "long").verdict is Verdict.CARRIED
