"""A line of very many points is drawn fair, at a cost that grows with its points alone."""

import cmath

import numpy as np
import pytest
from shapely.geometry import LineString

from tests.fair import sampled
from trueup.geometry.lines.chain import Chain
from trueup.lineage.drawings.seen.corners import sides_between_corners

RADIUS = 200.0


def circle(many: int) -> Chain:
    points = [cmath.rect(RADIUS, 2 * cmath.pi * k / many) for k in range(many)]
    return Chain.line(*points, points[0])


@pytest.fixture
def compared(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Return how many points were held against how many, of all lines that were compared."""
    asked: list[int] = []
    real = LineString.hausdorff_distance

    def counting(one: LineString, other: LineString) -> float:
        asked.append(len(one.coords) * len(other.coords))
        return float(real(one, other))

    monkeypatch.setattr(LineString, "hausdorff_distance", counting)
    return asked


def test_twice_the_points_are_compared_twice_as_often_and_the_line_is_the_same(
    compared: list[int],
) -> None:
    costs = []
    for many in (2000, 4000):
        compared.clear()
        (side,) = sides_between_corners(circle(many))
        costs.append(sum(compared))
        assert np.abs(np.abs(sampled(side)) - RADIUS).max() < 0.05
        assert len(side.cubics) < many / 20
    assert costs[1] < 2.5 * costs[0]
