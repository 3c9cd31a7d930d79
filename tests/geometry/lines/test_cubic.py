import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from tests.curves import CUBICS, MOTIONS, NASTY, POINTS
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import cross
from trueup.geometry.lines.polynomials import roots_inside
from trueup.geometry.tolerance import LENGTH_ERROR, SAME_POINT

SHARES = st.floats(0, 1)
nasty = pytest.mark.parametrize("cubic", NASTY.values(), ids=NASTY.keys())


def dense(cubic: Cubic, count: int = 2000) -> list[complex]:
    return [cubic.point(k / count) for k in range(count + 1)]


def test_a_straight_line_is_as_long_as_its_ends_are_apart():
    line = Cubic.line(0j, 3 + 4j)
    assert line.is_straight
    assert line.length == 5.0
    assert line.point(line.parameter_at(2.0)) == pytest.approx(1.2 + 1.6j)


@given(CUBICS, SHARES, POINTS, POINTS)
def test_equal_curves_tell_what_each_would_by_itself(
    cubic: Cubic, share: float, origin: complex, heading: complex
) -> None:
    assume(abs(heading) > SAME_POINT)
    told = cubic.length, cubic.parameter_at(share * cubic.length), cubic.crossings(origin, heading)
    like = Cubic(*cubic)
    assert (like.length, like.parameter_at(share * like.length)) == told[:2]
    assert Cubic.parameter_at.__wrapped__(like, share * like.length) == told[1]
    assert Cubic.crossings.__wrapped__(like, origin, heading) == told[2]


def test_who_asks_in_numbers_of_numpy_leaves_none_to_who_asks_next():
    curve = Cubic(0j, 10 + 20j, 30 + 20j, 40 + 1j)
    inside, origin = np.float64(17.25), np.complex128(5 + 3j)
    curve.parameter_at(inside)
    curve.crossings(origin, 1j)
    along, met = curve.parameter_at(17.25), curve.crossings(5 + 3j, 1j)
    assert {type(along), *map(type, met), type(curve.nearest(3j))} == {float}
    assert met
    points = [np.complex128(p) for p in (1j, 10 + 20j, 30 + 20j, 40 + 1j)]
    assert type(Cubic(*points).length) is float


def test_a_curve_that_runs_past_its_end_and_back_is_longer_than_its_chord():
    assert not NASTY["straight and back again"].is_straight
    assert NASTY["straight and back again"].length > 100


def test_a_hairpin_is_halved_at_its_tip():
    """Quadrature across the tip agrees with its halves and is wrong, so it has to start there."""
    hairpin = NASTY["hairpin"]
    assert hairpin.parameter_at(hairpin.length / 2) == pytest.approx(0.5, abs=1e-6)


def test_a_point_is_a_curve_of_no_length():
    point = Cubic(1 + 2j, 1 + 2j, 1 + 2j, 1 + 2j)
    assert point.length == 0
    assert point.parameter_at(5) == 0
    assert point.flattened(0.02) == [1 + 2j]
    assert point.crossings(0j, 1 + 0j) == []
    assert point.nearest(0j) in (0, 1)
    assert abs(point.tangent(0.5)) == 1


@pytest.mark.parametrize(
    ("name", "t", "direction"),
    [
        ("no start handle", 0.0, 80 + 30j),
        ("no end handle", 1.0, 80 - 30j),
        ("no handles", 0.0, 100 + 40j),
        ("no handles", 1.0, 100 + 40j),
        ("three points on one", 0.0, 100 + 40j),
        ("straight and back again", 0.0, 1 + 0j),
        ("straight and back again", 1.0, 1 + 0j),
    ],
)
def test_a_curve_without_a_handle_still_has_a_direction(name, t, direction):
    assert NASTY[name].tangent(t) == pytest.approx(direction / abs(direction))


def test_a_curve_without_a_handle_keeps_its_direction_far_away():
    there = 3000.1 + 2000.7j
    cubic = Cubic(there, there + 1e-13, there + 80 + 30j, there + 100)
    assert cubic.tangent(0.0) == pytest.approx((80 + 30j) / abs(80 + 30j))


@nasty
def test_lengths_of_nasty_curves_match_a_fine_polyline(cubic):
    points = dense(cubic, 40_000)
    polyline = sum(abs(b - a) for a, b in pairwise(points))
    assert cubic.length == pytest.approx(polyline, rel=2e-6, abs=1e-9)


@nasty
@pytest.mark.parametrize("share", [0.0, 1e-4, 0.3, 0.5, 0.9, 1.0])
def test_the_parameter_at_a_length_has_that_length_before_it(cubic, share):
    wanted = share * cubic.length
    assert abs(cubic.length_between(0.0, cubic.parameter_at(wanted)) - wanted) < 2 * LENGTH_ERROR


@given(CUBICS, SHARES)
@settings(max_examples=80)
def test_the_two_parts_of_a_split_add_up(cubic, t):
    before, after = cubic.split(t)
    assert before.end == after.start
    assert before.length + after.length == pytest.approx(cubic.length, abs=1e-6)
    assert before.swept_area + after.swept_area == pytest.approx(cubic.swept_area, abs=1e-5)


@given(CUBICS, MOTIONS, SHARES)
def test_a_moved_curve_is_the_same_curve_elsewhere(cubic, motion, t):
    moved = cubic.moved(motion)
    assert moved.length == pytest.approx(cubic.length, abs=1e-6)
    assert abs(moved.point(t) - motion(cubic.point(t))) < 1e-8


@given(CUBICS, SHARES)
def test_a_curve_travelled_backwards_is_as_long_and_sweeps_the_opposite(cubic, t):
    back = cubic.reversed()
    assert back.length == pytest.approx(cubic.length, abs=1e-7)
    assert back.swept_area == pytest.approx(-cubic.swept_area, abs=1e-6)
    assert abs(back.point(t) - cubic.point(1 - t)) < 1e-8
    assert back.reversed() == cubic


@given(CUBICS, st.floats(0.01, 2))
@example(NASTY["loop"], 0.02)
def test_flattened_chords_stay_within_tolerance(cubic, tolerance):
    points = [cubic.start, *cubic.flattened(tolerance)]
    count = len(points) - 1
    for k in range(count):
        low, high = points[k], points[k + 1]
        middle = cubic.point((k + 0.5) / count)
        assert abs(middle - (low + high) / 2) <= tolerance * 1.001


@given(CUBICS, POINTS, POINTS)
def test_every_crossing_lies_on_the_line(cubic, origin, direction):
    assume(abs(direction) > 1)
    for t in cubic.crossings(origin, direction):
        assert abs(cross(direction / abs(direction), cubic.point(t) - origin)) < SAME_POINT


@given(CUBICS, POINTS, POINTS)
def test_no_crossing_is_missed(cubic, origin, direction):
    assume(abs(direction) > 1)
    sides = [cross(direction / abs(direction), p - origin) for p in dense(cubic, 400)]
    assume(max(map(abs, sides)) > SAME_POINT)
    changes = [k for k in range(400) if sides[k] * sides[k + 1] < 0]
    found = cubic.crossings(origin, direction)
    assert len(found) >= len(changes)
    for k in changes:
        assert any(k / 400 - 1e-6 <= t <= (k + 1) / 400 + 1e-6 for t in found)


@given(CUBICS, POINTS, SHARES, st.floats(1e-3, 1e4))
def test_how_far_the_direction_reaches_does_not_matter(cubic, origin, t, reach):
    direction = cubic.point(t) - origin
    assume(abs(direction) > 1)
    assume(max(abs(cross(direction, p - origin)) for p in cubic) > abs(direction))
    found = cubic.crossings(origin, direction)
    for u in cubic.crossings(origin, direction * reach):
        assert any(abs(cubic.point(u) - cubic.point(v)) < 0.5 for v in found)
    assert any(abs(cubic.point(u) - cubic.point(t)) < 0.5 for u in found)


def test_a_touch_counts_as_a_crossing():
    arch = Cubic(0j, 0 - 40j, 100 - 40j, 100 + 0j)
    assert arch.crossings(-30j, 1 + 0j) == pytest.approx([0.5], abs=1e-3)
    assert arch.crossings(-30.001j, 1 + 0j) == []


def test_a_line_through_an_end_meets_the_curve_there_once():
    arch = Cubic(0j, 0 - 40j, 100 - 40j, 100 + 0j)
    assert arch.crossings(0j, 1 + 0j) == [0.0, 1.0]
    assert Cubic.line(0j, 10 + 10j).crossings(10 + 10j, 1j) == [1.0]


def test_a_closed_loop_meets_a_line_through_its_ends_at_both_of_them():
    assert NASTY["loop that closes"].crossings(0j, 1 + 0j) == [0.0, 1.0]


def test_a_curve_that_runs_along_the_line_has_no_crossing():
    turned = 1 + 0.37j
    line = Cubic.line(200 * turned, 500 * turned)
    assert line.crossings(0j, turned) == []


@given(CUBICS, POINTS)
@example(Cubic(0j, 0 - 40j, 100 - 40j, 100 + 0j), 50 + 500j)
@example(Cubic(0j, 0 - 40j, 100 - 40j, 100 + 0j), 50 - 20j)
def test_no_point_of_a_curve_is_nearer_than_the_nearest(cubic, point):
    found = abs(cubic.point(cubic.nearest(point)) - point)
    assert found <= min(abs(p - point) for p in dense(cubic, 300)) + 1e-9


@given(CUBICS, POINTS, st.floats(1e-6, 1e-2))
@example(Cubic(330 + 2j, 3 + 15j, 215 + 6j, 461 + 1j), 21 + 74j, 1e-4)
@example(Cubic(0j, 0j, 40j, -509j), 4 + 6j, 1e-4)
def test_a_step_either_way_from_the_nearest_leads_away(cubic, point, step):
    t = cubic.nearest(point)
    found = abs(cubic.point(t) - point)
    for other in (max(t - step, 0.0), min(t + step, 1.0)):
        assert abs(cubic.point(other) - point) >= found - 1e-9


@given(st.lists(st.floats(0.001, 0.999), min_size=1, max_size=5))
def test_roots_are_found_where_they_were_put(roots):
    found = roots_inside(tuple(np.poly(roots)))
    for root in roots:
        assert any(abs(root - t) < 2e-2 for t in found)


def test_an_arc_of_a_circle_is_as_long_as_its_angle():
    """The usual cubic for a quarter circle errs by less than 0.03 % of the radius."""
    handle = 4 / 3 * math.tan(math.pi / 8) * 100
    quarter = Cubic(100 + 0j, 100 + handle * 1j, handle + 100j, 100j)
    assert quarter.length == pytest.approx(50 * math.pi, rel=3e-4)


@pytest.mark.parametrize("high", [5e-324, 2e-96, 1e-30, 1e-16])
@nasty
def test_as_short_a_way_as_numbers_tell_has_a_length(cubic, high):
    assert 0 <= cubic.length_between(0.0, high) <= LENGTH_ERROR
    assert -LENGTH_ERROR <= cubic.length_between(high, 0.0) <= 0
