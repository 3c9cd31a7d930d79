import cmath
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline

from tests.refusals import refusing
from trueup.geometry.errors import BrokenOutline
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_line

COORDINATES = st.integers(-300, 300)
POINTS = st.lists(st.builds(complex, COORDINATES, COORDINATES), min_size=2, max_size=8)
DIRECTIONS = st.floats(-math.pi, math.pi).map(lambda angle: cmath.rect(1.0, angle))
LINES = st.tuples(
    POINTS.map(
        lambda points: [p for k, p in enumerate(points) if k == 0 or p != points[k - 1]]
    ).filter(lambda points: len(points) > 1),
    DIRECTIONS,
    DIRECTIONS,
)


@given(LINES)
def test_a_smooth_line_passes_through_its_points(line: tuple[list[complex], complex, complex]):
    points, leaving, arriving = line
    chain = smooth_line(points, leaving, arriving)
    assert [chain.start, *(cubic.end for cubic in chain.cubics)] == points
    assert len(chain.cubics) == len(points) - 1


@given(LINES)
def test_a_smooth_line_sets_out_and_arrives_as_told(line: tuple[list[complex], complex, complex]):
    points, leaving, arriving = line
    chain = smooth_line(points, 7 * leaving, arriving / 3)
    assert abs(chain.start_tangent - leaving) < 1e-9
    assert abs(chain.end_tangent - arriving) < 1e-9


@given(LINES)
def test_it_is_the_clamped_spline_of_another_library(
    line: tuple[list[complex], complex, complex],
):
    points, leaving, arriving = line
    chain = smooth_line(points, leaving, arriving)
    stations = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(points)))])
    by_coordinate = np.array([[p.real, p.imag] for p in points])
    ends = [(1, [d.real, d.imag]) for d in (leaving, arriving)]
    spline = CubicSpline(stations, by_coordinate, bc_type=(ends[0], ends[1]))
    for cubic, low, high in zip(chain.cubics, stations, stations[1:], strict=False):
        for t in (0.2, 0.5, 0.9):
            x, y = spline(low + t * (high - low))
            assert abs(cubic.point(t) - complex(x, y)) < 1e-7


def test_a_smooth_line_through_points_of_a_straight_one_is_straight():
    chain = smooth_line([0j, 10 + 0j, 35 + 0j, 40 + 0j], 1, 1)
    assert chain.length == pytest.approx(40, abs=1e-9)
    assert all(cubic.is_straight for cubic in chain.cubics)


def test_a_smooth_line_along_a_circle_stays_near_it():
    points = [cmath.rect(100, math.radians(angle)) for angle in (0, 25, 60, 90)]
    chain = smooth_line(points, 1j, -1)
    radii = [abs(chain.point_at(chain.length * k / 50)) for k in range(51)]
    assert max(abs(radius - 100) for radius in radii) < 0.2


def test_turning_the_points_turns_the_line():
    points = [0j, 30 + 10j, 50 + 60j]
    turn = cmath.rect(1.0, 0.7)
    turned = smooth_line([turn * p for p in points], turn, turn * 1j)
    plain = smooth_line(points, 1, 1j)
    for a, b in zip(turned.cubics, plain.cubics, strict=True):
        assert all(abs(p - turn * q) < 1e-10 for p, q in zip(a, b, strict=True))


def test_the_same_points_give_the_same_line_to_the_last_bit():
    points = [0j, 31 + 10j, 50 + 61j, 20 + 90j]
    assert smooth_line(points, 1, 1j) == smooth_line(points, 1, 1j)
    assert isinstance(smooth_line(points, 1, 1j), Chain)


@pytest.mark.parametrize("points", [[], [5 + 5j], [0j, 10 + 0j, 10 + 0j, 20 + 0j]])
def test_too_few_or_repeated_points_are_refused(points: list[complex]):
    with refusing(BrokenOutline, match="smooth line"):
        smooth_line(points, 1, 1)
