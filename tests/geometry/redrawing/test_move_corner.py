import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import amounts
from tests.refusals import refusing
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Motion, degrees_between
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.redrawing.move_corner import (
    both_carried,
    carried,
    end_carried,
    end_cut,
    end_motion,
    meeting,
    quarter_curve,
    start_carried,
    start_cut,
    start_motion,
    stretched,
    taper,
    turned_about_start,
)

AMOUNTS = amounts(-40, 40)


def arc() -> Edge:
    """Return a quarter of a circle of 100 mm, from straight down to straight across."""
    return Edge("rim", "top", "bottom", (quarter_curve(0j, 1j, 100 + 100j, 1 + 0j),))


def darted() -> Edge:
    """Return a straight edge of 100 mm with a dart of a quarter turn in the middle."""
    return Edge(
        "rim",
        "left",
        "right",
        (Chain.line(0j, 50 + 0j), Chain.line(150 + 100j, 150 + 150j)),
        (Dart("wedge", 50 + 100j),),
    )


@given(AMOUNTS)
def test_an_edge_is_cut_and_drawn_on_by_exactly_the_amount(by: float) -> None:
    for edge in (arc(), darted()):
        assert end_cut(edge, by).length == pytest.approx(edge.length - by, abs=1e-6)
        assert start_cut(edge, by).length == pytest.approx(edge.length - by, abs=1e-6)


@given(AMOUNTS, AMOUNTS)
def test_equal_edges_are_redrawn_as_each_would_be_by_itself(across: float, down: float) -> None:
    motion = Motion(shift=complex(across, down))
    for edge in (arc(), darted()):
        for redraw in (start_carried, end_carried):
            try:
                redrawn = redraw.__wrapped__(edge, motion)
            except DoesNotFit:
                continue
            assert redraw(edge, motion) == redraw(replace(edge), motion) == redrawn


def test_an_edge_is_drawn_on_straight() -> None:
    longer = end_cut(arc(), -30)
    assert longer.end == pytest.approx(130 + 100j)
    assert start_cut(arc(), -30).start == pytest.approx(-30j)


def test_a_cut_does_not_reach_a_dart() -> None:
    with refusing(DoesNotFit, match="reach the dart wedge"):
        end_cut(darted(), 50)
    with refusing(DoesNotFit, match="reach the dart wedge"):
        start_cut(darted(), 50)


def test_a_cut_leaves_something() -> None:
    with refusing(DoesNotFit, match="nothing would be left"):
        end_cut(arc(), 200)


def test_a_motion_takes_an_end_with_its_direction_to_the_new_one() -> None:
    edge, shorter = arc(), end_cut(arc(), 40)
    motion = end_motion(edge, shorter)
    assert motion(edge.end) == pytest.approx(shorter.end)
    turned = edge.parts[0].end_tangent * motion.rotation
    assert degrees_between(turned, shorter.parts[0].end_tangent) < 1e-5
    lower = start_cut(arc(), 40)
    assert start_motion(edge, lower)(edge.start) == pytest.approx(lower.start)


def test_the_taper_starts_whole_and_ends_in_nothing_without_a_slope() -> None:
    weight = taper(200)
    assert weight(0) == (1, 0)
    assert weight(200) == (0, 0)
    assert weight(100)[0] < 1 / 3


@given(st.floats(0.05, 0.95))
def test_the_slope_of_the_taper_is_its_slope(share: float) -> None:
    weight, at, step = taper(200), share * 200, 1e-4
    slope = (weight(at + step)[0] - weight(at - step)[0]) / (2 * step)
    assert weight(at)[1] == pytest.approx(slope, abs=1e-6)


@given(AMOUNTS, AMOUNTS, st.integers(-400, 400).map(lambda n: n / 1000))
@settings(max_examples=50)
def test_a_carried_end_takes_its_direction_along_and_the_other_end_stays(
    x: float, y: float, radians: float
) -> None:
    edge, motion = arc(), Motion.turn(20j, radians).after(Motion(shift=complex(x, y)))
    before = edge.parts[0]
    after = start_carried(edge, motion).parts[0]
    assert after.start == pytest.approx(motion(before.start))
    assert degrees_between(after.start_tangent, before.start_tangent * motion.rotation) < 1e-5
    assert after.end == before.end
    assert degrees_between(after.end_tangent, before.end_tangent) < 1e-5
    mirrored = end_carried(edge, motion).parts[0]
    assert mirrored.end == pytest.approx(motion(before.end))
    assert degrees_between(mirrored.end_tangent, before.end_tangent * motion.rotation) < 1e-5
    assert mirrored.start == before.start


def test_a_carried_end_beside_a_dart_moves_in_its_own_paper() -> None:
    edge = darted()
    moved = end_carried(edge, Motion(shift=3 + 7j))
    assert moved.end == pytest.approx(153 + 157j)
    assert moved.start == 0j
    first, second = moved.mouths[0].legs
    assert first == pytest.approx(second)


def test_both_ends_carried_alike_carry_the_whole_line() -> None:
    edge, motion = arc(), Motion(shift=5 + 9j)
    moved = both_carried(edge, motion, motion, 5 + 9j, 105 + 109j)
    assert moved.length == pytest.approx(edge.length)
    assert moved.parts[0].point_at(60) == pytest.approx(edge.parts[0].point_at(60) + 5 + 9j)


def test_carrying_by_nothing_changes_no_length() -> None:
    line = arc().parts[0]
    assert carried(line, (Motion(), taper(line.length))).length == pytest.approx(line.length)


@given(st.integers(-400, 400).map(lambda n: n / 1000))
@settings(max_examples=30)
def test_turning_an_edge_about_its_start_keeps_its_length_and_its_darts_angle(
    radians: float,
) -> None:
    shoulder = block().edge("back", "shoulder")
    turned, motion = turned_about_start(shoulder, radians)
    assert turned.length == pytest.approx(shoulder.length, abs=1e-6)
    assert turned.start == shoulder.start
    assert turned.end == pytest.approx(motion(shoulder.end))
    assert turned.darts == shoulder.darts
    assert turned.mouths[0].angle == pytest.approx(shoulder.mouths[0].angle)
    assert turned.mouths[0].legs[0] == pytest.approx(turned.mouths[0].legs[1])


@given(amounts(-40, 60), amounts(-40, 60))
@settings(max_examples=50)
def test_a_stretched_curve_meets_its_new_ends_at_its_old_angles(x: float, y: float) -> None:
    edge = arc()
    at_end = Motion(shift=complex(x, y))
    end = at_end(edge.end)
    after = stretched(edge, 1j, Motion(), at_end, edge.start, end).parts[0]
    assert after.start == 0j
    assert after.end == end
    assert degrees_between(after.start_tangent, 1j) < 1e-4
    assert degrees_between(after.end_tangent, 1) < 1e-4


def test_a_stretched_corner_of_straight_lines_keeps_them_straight_and_square() -> None:
    edge = Edge("neck", "a", "b", (Chain.line(0j, 60 + 0j, 60 - 50j),))
    longer = stretched(edge, 1j, Motion(shift=20j), Motion(), 20j, 60 - 50j)
    assert longer.parts[0].cubics[0].end == pytest.approx(60 + 20j)
    assert longer.length == pytest.approx(60 + 70)


def test_a_quarter_curve_is_a_quarter_circle_to_the_usual_exactness() -> None:
    quarter = quarter_curve(0j, 1j, 100 + 100j, 1 + 0j)
    assert quarter.length == pytest.approx(100 * math.pi / 2, rel=3e-4)
    assert abs(quarter.point_at(quarter.length / 2) - 100) == pytest.approx(100, rel=3e-4)


def test_a_quarter_curve_whose_tangents_do_not_meet_ahead_is_a_fair_arc() -> None:
    assert quarter_curve(0j, 1 + 0j, 100 + 50j, 1 + 0j) == smooth_join(0j, 1, 100 + 50j, 1)


def test_meeting_puts_ends_on_their_corners() -> None:
    edge = meeting(arc(), start=1e-9 + 0j, end=100 + 100.000000001j)
    assert edge.start == 1e-9
    assert edge.end == 100 + 100.000000001j
