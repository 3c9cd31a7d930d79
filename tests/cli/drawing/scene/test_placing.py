"""Where numbered marks stand, against every place looked at."""

import cmath
import math

import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from trueup.cli.drawing.scene.placing import places
from trueup.geometry.lines.points import Point

points = st.builds(complex, st.floats(-20, 20), st.floats(-20, 20))
strokes = st.lists(points, min_size=2, max_size=12)
rooms = st.none() | st.builds(shapely.box, *[st.floats(-30, 0)] * 2, *[st.floats(1, 30)] * 2)


def first_of_all(
    target: Point,
    taken: list[Point],
    targets: list[Point],
    lines: shapely.LineString,
    room: shapely.Polygon | None,
) -> Point:
    every = [
        target + cmath.rect(reach, 2 * math.pi * k / 16)
        for reach in (3.0, 4.5, 6.5, 9.0)
        for k in range(16)
    ]
    wishes = (
        lambda at: (
            all(abs(at - other) > 2.3 for other in taken)
            and all(abs(at - other) > 1.8 for other in targets)
        ),
        lambda at: room is None or room.buffer(-1.0).covers(shapely.Point(at.real, at.imag)),
        lambda at: lines.distance(shapely.Point(at.real, at.imag)) >= 1.3,
    )
    for wish in wishes:
        every = [at for at in every if wish(at)] or every
    return every[0]


@given(st.lists(points, max_size=8), strokes, rooms)
@settings(max_examples=40)
def test_a_mark_stands_at_the_first_place_of_all_that_serves(targets, stroke, room):
    lines = shapely.LineString([(p.real, p.imag) for p in stroke])
    stands = places(targets, 1.0, lines, room)
    assert len(stands) == len(targets)
    for index, (target, at) in enumerate(zip(targets, stands, strict=True)):
        assert at == first_of_all(target, [*stands[:index]], targets, lines, room)
