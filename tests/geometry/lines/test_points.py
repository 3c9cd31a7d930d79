import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.curves import MOTIONS, POINTS
from trueup.geometry.lines.points import Motion, cross, degrees_between, dot, turn_between, unit

ANGLES = st.floats(-3, 3)


def test_right_then_down_is_a_quarter_turn_clockwise_on_paper():
    right, down = 1 + 0j, 1j
    assert turn_between(right, down) == pytest.approx(math.pi / 2)
    assert cross(right, down) > 0
    assert dot(right, down) == 0


def test_a_half_turn_is_positive_whichever_zero_it_comes_from():
    assert turn_between(1 + 0j, complex(-1, 0.0)) == math.pi
    assert turn_between(1 + 0j, complex(-1, -0.0)) == math.pi
    assert turn_between(1j, -1j) == math.pi


def test_no_direction_has_no_unit():
    with pytest.raises(ZeroDivisionError):
        unit(0j)


@given(POINTS, ANGLES)
def test_turning_about_a_point_leaves_it_in_place(pivot, radians):
    assert abs(Motion.turn(pivot, radians)(pivot) - pivot) < 1e-9


@given(MOTIONS, POINTS, POINTS)
def test_a_motion_keeps_distances(motion, one, other):
    assert abs(motion(one) - motion(other)) == pytest.approx(abs(one - other), abs=1e-9)


@given(MOTIONS, POINTS)
def test_the_inverse_takes_a_motion_back(motion, point):
    assert abs(motion.inverse()(motion(point)) - point) < 1e-9


@given(MOTIONS, MOTIONS, POINTS)
def test_after_does_the_first_motion_first(second, first, point):
    assert abs(second.after(first)(point) - second(first(point))) < 1e-9


@given(ANGLES, st.floats(1, 300), st.floats(1, 300))
def test_bringing_closes_a_dart_about_its_apex(angle, near, far):
    apex = 40 + 70j
    leg = apex + near
    other = Motion.turn(apex, angle)(apex + far)
    closed = Motion.bringing(other, leg, apex)(other)
    assert degrees_between(closed - apex, leg - apex) == pytest.approx(0, abs=1e-6)
    assert abs(closed - apex) == pytest.approx(far)
