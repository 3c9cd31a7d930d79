"""The data of a path, read back by a library for SVG: https://pypi.org/project/svgelements/."""

import cmath

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from svgelements import CubicBezier, Line, Path

from trueup.cli.drawing.scene.path_data import PathData
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Motion

AS_WRITTEN = 0.005 * 2**0.5 + 1e-9
"""How far a point may lie from one that is written in hundredths."""

numbers = st.floats(-3000, 3000)
points = st.builds(complex, numbers, numbers)
lines = st.lists(points, min_size=1, max_size=5).map(tuple)
chains = st.lists(points, min_size=4, max_size=13).map(
    lambda p: Chain(tuple(Cubic(*p[at : at + 4]) for at in range(0, len(p) - 3, 3)))
)
motions = st.builds(
    lambda turn, shift: Motion(cmath.rect(1, turn), shift), st.floats(-4, 4), points
)


def read(data: str) -> list[list[complex]]:
    """Return the points of each part of a path."""
    found = []
    for part in Path(data):
        if isinstance(part, CubicBezier):
            found.append([part.control1, part.control2, part.end])
        else:
            found.append([part.end])
    return [[complex(at.x, at.y) for at in each] for each in found]


def told(runs: list[Chain | tuple[complex, ...]]) -> list[list[complex]]:
    """Return what a path of some runs consists of."""
    found = []
    for run in runs:
        if isinstance(run, Chain):
            found.append([run.start])
            found += [[c.start_control, c.end_control, c.end] for c in run.cubics]
        else:
            found += [[each] for each in run]
    return found


@given(st.lists(lines | chains, min_size=1, max_size=6), motions)
def test_a_path_told_from_point_to_point_goes_where_it_goes(runs, motion):
    found = read(PathData.of(runs).relative(motion))
    wanted = told(runs)
    assert [len(each) for each in found] == [len(each) for each in wanted]
    for got, meant in zip(found, wanted, strict=True):
        away = np.abs(np.array(got) - [motion(each) for each in meant])
        assert away.max() <= AS_WRITTEN


@given(st.lists(lines | chains, min_size=1, max_size=6), motions)
def test_a_path_told_from_the_corner_goes_where_it_goes(runs, motion):
    found = read(PathData.of(runs).absolute("%.2f", motion))
    for got, meant in zip(found, told(runs), strict=True):
        away = np.abs(np.array(got) - [motion(each) for each in meant])
        assert away.max() <= AS_WRITTEN


def test_straight_curves_may_be_told_as_lines():
    straight = Chain((Cubic.line(0j, 10 + 0j), Cubic(10 + 0j, 12 + 5j, 14 + 5j, 20 + 0j)))
    parts = list(Path(PathData.of([straight], straightened=True).relative(Motion())))
    assert [type(each) for each in parts[1:]] == [Line, CubicBezier]
    parts = list(Path(PathData.of([straight]).relative(Motion())))
    assert [type(each) for each in parts[1:]] == [CubicBezier, CubicBezier]


def test_noughts_have_no_sign_and_nothing_is_written_for_nothing():
    data = PathData.of([(-0.001 - 0.001j, 0j, 5 - 0.001j)])
    assert data.relative(Motion()) == "m0,0l0,0l5,0"
    assert data.absolute("%.2f", Motion()) == "M 0.00,0.00 L 0.00,0.00 L 5.00,0.00"
    assert PathData.of([]).relative(Motion()) == ""
