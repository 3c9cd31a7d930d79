import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import amounts, corner_degrees
from tests.fair import closed_points, smallest_radius
from tests.geometry.changes.skirts import PIECES, skirt, skirt_node, skirts
from tests.geometry.changes.tape_measure import assert_same_lengths, sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from trueup.geometry.changes.side_and_hem.flare_seam import FlareSeam
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

REACHES = st.integers(150, 350).map(float)
COAT = (
    {"kind": "lengthen", "by": "500mm"},
    {"kind": "release-dart", "dart": "back.waist-side"},
    {
        "kind": "cut-apart",
        "piece": "back",
        "begins": "armhole",
        "at": "60% from shoulder-point",
        "through": "waist",
        "ends": "hem",
        "ends_at": "50% from hem-side",
        "line": "princess",
    },
)  # fmt: skip


def flare(edge: str, above: float, by: float) -> FlareSeam:
    corner = f"hem-{edge.partition('.')[2]}"
    return FlareSeam(edge=edge, at=Position(corner, distance=above), by=by)


@given(skirts(), REACHES, amounts(5, 90), st.sampled_from(PIECES))
@settings(max_examples=30, deadline=None)
def test_both_sides_move_out_alike_and_keep_their_length(
    before: Draft, reach: float, by: float, named: str
) -> None:
    after = flare(f"{named}.side", reach, by).apply(before)
    assert_sound(after)
    assert check(after) == check(before)
    assert_same_lengths(before, after, *(f"{piece}.hem" for piece in PIECES))
    for piece in PIECES:
        was, now = (each.piece(piece) for each in (before, after))
        # Square to the old side, which hangs straight down, it lies by the amount farther out.
        moved = now.corner("hem-side") - was.corner("hem-side")
        outward = np.sign(was.corner("hem-side").real - was.corner("hem-centre").real)
        assert moved.real * outward == pytest.approx(by, abs=0.01)
        assert moved.imag < 0
        old, new = (closed_points(each.edge("side")) for each in (was, now))
        there = np.interp(new.imag, old.imag, old.real)
        above = new.imag < old.imag[-1] - reach - 1
        assert np.abs(new.real - there)[above].max() < 0.01
        # It bends one way from its old line, over the upper half; below it is straight.
        half = old.imag[-1] - 0.5 * reach
        was_low, low = (np.angle(np.diff(line[line.imag > half + 2])) for line in (old, new))
        assert np.ptp(low) < np.ptp(was_low) + 0.003
        assert smallest_radius(new) > 60
        for corner in ("hem-side", "hem-centre", "waist-side"):
            assert corner_degrees(now, corner) == pytest.approx(
                corner_degrees(was, corner), abs=0.1
            )
        assert now.edge("waist") == was.edge("waist")
        assert now.edge("centre") == was.edge("centre")


@given(skirts(), REACHES, amounts(5, 30))
@settings(max_examples=25, deadline=None)
def test_taken_in_it_is_narrower_at_the_hem(before: Draft, reach: float, by: float) -> None:
    after = flare("skirt-front.side", reach, -by).apply(before)
    assert_sound(after)
    assert check(after) == check(before)
    assert_same_lengths(before, after, *(f"{piece}.hem" for piece in PIECES))
    for piece in PIECES:
        hems = [sewn_length(each.edge(piece, "hem")) for each in (before, after)]
        assert hems[0] - hems[1] == pytest.approx(by, rel=0.05)


def coat() -> Draft:
    draft = block()
    for values in COAT:
        draft = change(**values).apply(draft)
    return draft


def test_the_seam_of_a_princess_line_is_flared_on_both_parts() -> None:
    before = coat()
    at = "350mm from princess-hem"
    after = change("flare-seam", edge="back-side.princess", at=at, by="70mm").apply(before)
    assert_sound(after)
    assert check(after) == check(before)
    for piece in ("back-side", "back-centre"):
        hems = [sewn_length(each.edge(piece, "hem")) for each in (before, after)]
        assert hems[1] - hems[0] == pytest.approx(70, abs=1.5)
    assert_same_lengths(before, after, "back-side.hem", "back-centre.hem")
    # The side of the whole is let out on the part that has it, and on the front.
    sides = flare("back.side", 300.0, 40.0).apply(after)
    for piece in ("back-side", "front"):
        hems = [sewn_length(each.edge(piece, "hem")) for each in (after, sides)]
        assert hems[1] - hems[0] == pytest.approx(40, abs=1.5)
    assert sides.piece("back-centre") == after.piece("back-centre")
    assert check(sides) == check(before)


def test_a_centre_that_no_seam_sews_and_one_side_of_the_body() -> None:
    after = flare("skirt-back.centre", 250.0, 50.0).apply(skirt())
    assert after.piece("skirt-front") == skirt().piece("skirt-front")
    assert after.piece("skirt-back").corner("hem-centre").real == pytest.approx(-50)
    told = FlareSeam(
        edge="skirt-back.side", at=Position("hem-side", distance=250.0), by=50.0, side="left"
    )
    left = told.apply(skirt())
    assert (
        left.edge("left-skirt-front", "hem").length > left.edge("right-skirt-front", "hem").length
    )
    assert told.in_words(Unit.CENTIMETRE) == (
        "let out the seam skirt-back.side by 5 cm at the hem, beginning 25 cm from the hem side "
        "on the left"
    )


def test_what_cannot_be_flared_is_refused() -> None:
    with refusing(
        CannotChange, match=r"skirt-front\.waist does not come down to a hem; name anoth"
    ):
        change("flare-seam", edge="skirt-front.waist", at="50% from waist-side", by="20mm").apply(
            skirt()
        )
    with refusing(CannotChange, match="it lies on the fold of the cloth; name another edge"):
        flare("skirt-front.centre", 250.0, 50.0).apply(skirt())
    with refusing(
        CannotChange, match="would begin only 40 mm above the hem; let the flare begin h"
    ):
        flare("skirt-front.side", 40.0, 50.0).apply(skirt())
    turned = change(
        "rotate-dart", dart="front.bust", edge="front.side", at="30% from underarm"
    ).apply(block())
    with refusing(CannotChange, match="the flare would begin above the dart bust; let the flare b"):
        change("flare-seam", edge="front.side", at="10% from underarm", by="5mm").apply(turned)
    with refusing(CannotChange, match="with 60 mm .* its amount can go as far as"):
        flare("skirt-front.side", 60.0, 60.0).apply(skirt())


def test_corrections_of_the_block_arrive_under_it() -> None:
    values = {"edge": "skirt-front.side", "at": "300mm from hem-side", "by": "60mm"}
    bench = Bench(state(skirt_node(), child("full", step("f", "flare-seam", **values), of="skirt")))
    core = skirt()
    for each in (
        change("lengthen", by="50mm"),
        change("taper-side", level="hip", by="-6mm"),
        change("deepen-dart", dart="skirt-back.waist", by="4mm"),
    ):
        found = bench.correct("skirt", each)
        assert pattern(found, "full").verdict is Verdict.CARRIED
        core = each.apply(core)
    by_hand, replayed = change("flare-seam", **values).apply(core), bench.evaluator.draft("full")
    for piece in PIECES:
        assert largest_shift(by_hand.piece(piece), replayed.piece(piece)) < 0.01


def test_made_on_the_block_it_arrives_in_a_longer_skirt() -> None:
    bench = Bench(state(skirt_node(), child("long", step("l", "lengthen", by="80mm"), of="skirt")))
    found = bench.correct("skirt", flare("skirt-back.side", 300.0, 40.0))
    assert pattern(found, "long").verdict is Verdict.CARRIED
