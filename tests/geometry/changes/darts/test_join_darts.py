import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.geometry.changes.tape_measure import angle, angles, assert_same_lengths, cloth_area
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts, side_dart_blocks
from trueup.geometry.changes.base import kind_named
from trueup.geometry.changes.darts.deepen_dart import DeepenDart
from trueup.geometry.changes.darts.join_darts import JoinDarts
from trueup.geometry.changes.darts.move_apex import MoveApex
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

PAIRS = st.sampled_from([("front.bust", "front.waist"), ("front.waist", "front.bust")])


def free(draft: Draft) -> Draft:
    """Return a draft whose front has room for one large dart: the tip of its side dart is low."""
    return MoveApex(dart="front.waist-side", by=40).apply(draft)


@given(st.one_of(drafts(), side_dart_blocks()), PAIRS)
@settings(max_examples=80)
def test_angles_add_up_and_edges_apex_and_cloth_stay(draft: Draft, pair: tuple[str, str]) -> None:
    before, (dart, other) = free(draft), pair
    after = JoinDarts(dart=dart, other=other).apply(before)
    assert_sound(after)
    was, now = angles(before.piece("front")), angles(after.piece("front"))
    kept, gone = (each.partition(".")[2] for each in pair)
    assert gone not in now
    assert now[kept] == pytest.approx(was[kept] + was[gone], abs=1e-9)
    assert now["waist-side"] == pytest.approx(was["waist-side"], abs=1e-9)
    assert_same_lengths(before, after)
    area = cloth_area(before.piece("front"))
    assert cloth_area(after.piece("front")) == pytest.approx(area, abs=1.0)
    assert after.mouth(dart).dart.apex == before.mouth(dart).dart.apex
    assert after.mouth(dart).dart.setback == before.mouth(dart).dart.setback


@given(drafts(), PAIRS)
@settings(max_examples=40)
def test_nothing_that_held_before_is_found_after_it(draft: Draft, pair: tuple[str, str]) -> None:
    before = free(draft)
    was = {(each.code, each.piece, each.edge) for each in check(before)}
    after = JoinDarts(dart=pair[0], other=pair[1]).apply(before)
    assert {(each.code, each.piece, each.edge) for each in check(after)} <= was


# --- apexes that lie apart ------------------------------------------------------------------------


def panel(apart: complex, wide: float = 16.0) -> Draft:
    """Return a panel 200 mm square, a dart in its top and one in its side that aim nearly alike."""
    first, second = 100 + 90j, 100 + 90j + apart
    mouth = complex(100, 0)
    turn = Motion.turn(first, math.radians(12))
    top = (mouth, turn(mouth))
    low = complex(0, 100)
    spread = Motion.turn(second, math.radians(-wide))
    side = (low, spread(low))
    edges = (
        Edge("centre", "top-centre", "hem-centre", (Chain.line(200 + 0j, 200 + 200j),)),
        Edge("hem", "hem-centre", "hem-side", (Chain.line(200 + 200j, 200j),)),
        Edge(
            "side",
            "hem-side",
            "top-side",
            (Chain.line(200j, side[1]), Chain.line(side[0], 0j)),
            (Dart("low", second),),
        ),
        Edge(
            "top",
            "top-side",
            "top-centre",
            (Chain.line(0j, top[0]), Chain.line(top[1], 200 + 0j)),
            (Dart("high", first, 10.0),),
        ),
    )
    return Draft((Piece("panel", edges),))


SPREADS = st.builds(complex, st.floats(-15, 15), st.floats(-15, 15))


@given(SPREADS)
@settings(max_examples=60)
def test_apexes_that_lie_a_little_apart_are_joined_between_them(apart: complex) -> None:
    before = panel(apart)
    after = JoinDarts(dart="panel.high", other="panel.low").apply(before)
    assert_sound(after)
    assert_same_lengths(before, after, within=1e-6)
    total = sum(angles(before.piece("panel")).values())
    assert angle(after.mouth("panel.high")) == pytest.approx(total, abs=1e-9)
    one, other = 100 + 90j, 100 + 90j + apart
    apex = after.mouth("panel.high").dart.apex
    assert abs(apex - one) + abs(apex - other) < 1.1 * abs(apart) + 1e-6
    # What the cut from apex to apex gives or takes is a sliver, as wide as the closed dart.
    moved = cloth_area(after.piece("panel")) - cloth_area(before.piece("panel"))
    assert abs(moved) < abs(apart) ** 2 * total / 2 + 1e-6


# --- what is refused ------------------------------------------------------------------------------


def test_darts_that_aim_at_other_points_are_refused() -> None:
    with refusing(CannotChange, match=r"aims at a point 86\.8 mm .* 25\.4 mm apart"):
        JoinDarts(dart="front.waist", other="front.waist-side").apply(block())


def test_a_dart_of_another_piece_and_the_dart_itself_are_refused() -> None:
    with refusing(CannotChange, match=r"back\.shoulder is one of another piece"):
        JoinDarts(dart="front.waist", other="back.shoulder").apply(block())
    with refusing(CannotChange, match="cannot be closed into itself"):
        JoinDarts(dart="front.waist", other="front.waist").apply(block())
    with pytest.raises(NoSuchName):
        JoinDarts(dart="front.waist", other="front.bust-2").apply(block())


def test_a_dart_inside_the_piece_is_refused() -> None:
    long = kind_named("lengthen")(by=300.0).apply(block())
    with refusing(CannotChange, match="lies inside the piece"):
        JoinDarts(dart="front.bust", other="front.waist").apply(long)


def test_darts_that_would_open_half_round_are_refused() -> None:
    piece = panel(0j, 70.0).piece("panel")
    turn = Motion.turn(100 + 90j, math.radians(85))
    top = piece.edge("top")
    wide = replace(
        top, parts=(top.parts[0], Chain.line(turn(top.parts[0].end), 200 + 20j, 200 + 0j))
    )
    with refusing(CannotChange, match=r"would open by 155\.0 degrees"):
        JoinDarts(dart="panel.high", other="panel.low").apply(Draft((piece.with_edges(wide),)))


def test_a_tip_that_the_wider_mouth_would_pass_is_refused() -> None:
    piece = panel(0j, 60.0).piece("panel")
    top = piece.edge("top")
    backed = replace(top, darts=(replace(top.darts[0], setback=88.0),))
    with refusing(CannotChange, match=r"mouth would come up to its tip.*move-apex"):
        JoinDarts(dart="panel.high", other="panel.low").apply(Draft((piece.with_edges(backed),)))


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change("join-darts", dart="front.waist", other="front.bust", side="left")
    assert told.in_words(Unit.MILLIMETRE) == (
        "join the dart front.bust into front.waist on the left"
    )


def test_a_deeper_dart_of_the_block_arrives_in_the_one_it_was_joined_with() -> None:
    joined = step("j1", "join-darts", dart="front.bust", other="front.waist")
    bench = Bench(state(block_node(), child("shift", joined)))
    was = angles(bench.evaluator.draft("shift").piece("front"))["bust"]
    of_block = angles(bench.evaluator.draft("village").piece("front"))["bust"]
    found = bench.correct("village", change("deepen-dart", dart="front.bust", by="8mm"))
    assert pattern(found, "shift").verdict is Verdict.CARRIED
    deeper = angles(bench.evaluator.draft("village").piece("front"))["bust"] - of_block
    now = angles(bench.evaluator.draft("shift").piece("front"))["bust"]
    assert now - was == pytest.approx(deeper, abs=1e-6)


def test_a_deeper_dart_of_the_block_arrives_in_the_one_that_took_it_over() -> None:
    joined = step("j1", "join-darts", dart="front.waist", other="front.bust")
    bench = Bench(state(block_node(), child("shift", joined)))
    found = bench.correct("village", change("deepen-dart", dart="front.bust", by="4mm"))
    (carried,) = pattern(found, "shift").measures
    assert pattern(found, "shift").verdict is Verdict.CARRIED
    assert carried.got_mm == pytest.approx(4, abs=1e-3)
    turned = change("rotate-dart", dart="front.bust", edge="front.side", at="30% from underarm")
    assert pattern(bench.correct("village", turned), "shift").verdict is Verdict.LOST


def test_darts_joined_on_the_block_are_joined_in_a_pattern_that_turned_one() -> None:
    turned = step("t1", "rotate-dart", dart="front.bust", edge="front.side", at="30% from underarm")
    bench = Bench(state(block_node(), child("blouse", turned)))
    found = bench.correct("village", change("join-darts", dart="front.bust", other="front.waist"))
    assert pattern(found, "blouse").verdict is Verdict.CARRIED
    darts = angles(bench.evaluator.draft("blouse").piece("front"))
    assert set(darts) == {"bust", "waist-side"}


def test_order_does_not_matter_to_what_is_taken_in() -> None:
    deeper = DeepenDart(dart="front.bust", by=5.0)
    join = JoinDarts(dart="front.bust", other="front.waist")
    one = angles(join.apply(deeper.apply(free(block()))).piece("front"))["bust"]
    assert one == pytest.approx(
        np.sum([angles(deeper.apply(block()).piece("front"))[n] for n in ("bust", "waist")])
    )
