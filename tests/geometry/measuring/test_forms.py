"""How far a line moved in the frame of its own ends, against circles and offsets."""

import cmath
import math

import pytest

from tests.builders import block
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.measuring.forms import (
    STATIONS,
    depths,
    farthest_move,
    like_move,
    moved,
    piece_forms,
)
from trueup.geometry.pieces.edge import Edge


def arc(radius: float, way: float) -> Edge:
    """Return an arc of a circle over a straight way from nought."""
    half = math.asin(way / 2 / radius)
    reach = 4 / 3 * math.tan(half / 8)
    centre = complex(way / 2, math.sqrt(radius**2 - way**2 / 4))
    first = -math.pi / 2 - half
    cubics = []
    for k in range(4):
        low, high = (cmath.exp(1j * (first + half / 2 * each)) for each in (k, k + 1))
        start, end = centre + radius * low, centre + radius * high
        bend = 1j * radius * reach
        cubics.append(Cubic(start, start + bend * low, end - bend * high, end))
    return Edge("armhole", "underarm", "shoulder-point", (Chain(tuple(cubics)),))


def away_from(radius: float, way: float, point: complex) -> float:
    centre = complex(way / 2, math.sqrt(radius**2 - way**2 / 4))
    return radius - abs(point - centre)


@pytest.mark.parametrize(("old", "new"), [(200.0, 120.0), (120.0, 200.0), (95.0, 90.0)])
def test_a_line_moved_as_far_as_it_lies_from_where_it_lay(old: float, new: float) -> None:
    way = 160.0
    before, after = depths(arc(old, way)), depths(arc(new, way))
    for share, depth, move in zip(STATIONS, after[1:], moved(before, after), strict=True):
        expected = away_from(old, way, complex(share * way, depth))
        assert move == pytest.approx(expected, abs=0.1)


def test_a_line_that_stayed_did_not_move() -> None:
    line = depths(arc(110.0, 160.0))
    assert set(moved(line, line)) == {0.0}


def test_a_line_of_which_half_moved_is_half_moved() -> None:
    way = 160.0
    straight, whole, half = (), depths(arc(300.0, way)), depths(arc(590.0, way))
    wanted = moved(straight, whole)
    assert farthest_move(wanted) == pytest.approx(-(300 - math.sqrt(300**2 - 80**2)), abs=0.05)
    got = like_move(moved(straight, half), wanted)
    assert got == pytest.approx(-(590 - math.sqrt(590**2 - 80**2)), abs=0.05)


def test_darts_from_one_pivot_are_told_together_and_others_are_not() -> None:
    found = piece_forms(block().piece("front"))
    bust, waist = (found[f"front.{name}.angle"][0] for name in ("bust", "waist"))
    together = {name: form for name, form in found.items() if name.endswith("shared-angle")}
    assert set(together) == {"front.bust.shared-angle", "front.waist.shared-angle"}
    assert [form[0] for form in together.values()] == pytest.approx([bust + waist] * 2)
