"""The nearest of the straight bits of a line, against shapely's distances."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from trueup.geometry.comparing.straight_bits import StraightBits
from trueup.geometry.lines.points import Point, coordinates

places = st.builds(complex, st.integers(-30, 30), st.integers(-30, 30))
few = st.lists(places, min_size=2, max_size=12)
steps = st.builds(complex, st.integers(-2, 2), st.integers(-2, 2))
many = st.lists(steps, min_size=60, max_size=150).map(lambda steps: list(np.cumsum(steps)))
beside = st.lists(st.builds(complex, st.floats(-40, 40), st.floats(-40, 40)), min_size=1)


def bits_through(line: list[Point]) -> StraightBits:
    return StraightBits(np.array(line[:-1]), np.array(line[1:]))


@given(few | many, beside)
@settings(max_examples=60)
def test_points_lie_as_far_from_the_bit_they_are_nearest_to_as_from_the_line(line, beside):
    of_line, points = shapely.linestrings(coordinates(line)), np.array(beside)
    distances, bits = bits_through(line).nearest(points)
    there = shapely.points(points.real, points.imag)
    assert distances == pytest.approx(shapely.distance(there, of_line), abs=1e-9)
    ends = np.stack([coordinates(line)[bits], coordinates(line)[bits + 1]], axis=1)
    assert distances == pytest.approx(shapely.distance(there, shapely.linestrings(ends)), abs=1e-9)
    apart = bits_through(line).squared(points, bits)
    assert np.sqrt(apart) == pytest.approx(distances, abs=1e-9)


@given(few | many, beside)
@settings(max_examples=20)
def test_the_foot_of_a_point_lies_on_the_line_and_as_far_from_it(line, beside):
    found = bits_through(line)
    for point, apart, bit in zip(beside, *found.nearest(np.array(beside)), strict=True):
        foot = found.foot(point, int(bit))
        assert abs(foot - point) == pytest.approx(apart, abs=1e-9)
        assert found.nearest(np.array([foot]))[0] == pytest.approx(0, abs=1e-9)
