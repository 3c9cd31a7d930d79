"""Tables with card and frame on them, photographed, and how near to the card a tracing came."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon

from tests.lineage.drawings.photographs.rendering import Camera, Card, Placed, Scene, Table
from trueup.geometry.lines.chain import Chain
from trueup.lineage.drawings.shapes.shape import Shape

Line = list[complex]


def straight(start: complex, end: complex) -> Line:
    return [start, end]


def bent(a: complex, b: complex, c: complex, d: complex) -> Line:
    return [
        (1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t**2 * c + t**3 * d
        for t in np.linspace(0.0, 1.0, 81).tolist()
    ]


def around(lines: Sequence[Line]) -> Line:
    return [point for line in lines for point in line[:-1]]


def laid(lines: Sequence[Line], at: complex, turned: float = 0.0) -> list[Line]:
    turn = complex(np.exp(1j * np.radians(turned)))
    return [[at + turn * point for point in line] for line in lines]


BODICE = [
    bent(90 + 0j, 92 + 50j, 60 + 80j, 0 + 80j)[::-1],
    straight(90 + 0j, 230 + 40j),
    bent(230 + 40j, 215 + 160j, 225 + 228j, 280 + 230j),
    bent(280 + 230j, 265 + 330j, 245 + 400j, 240 + 450j),
    straight(240 + 450j, 150 + 450j),
    straight(150 + 450j, 132 + 330j),
    straight(132 + 330j, 120 + 450j),
    straight(120 + 450j, 0 + 450j),
    straight(0 + 450j, 0 + 80j),
]
"""A front with a waist dart, clockwise from the centre front at the neck."""

TROUSER_LEG = [
    straight(0 + 30j, 150 + 0j),
    bent(150 + 0j, 190 + 90j, 235 + 235j, 320 + 255j),
    bent(320 + 255j, 290 + 420j, 262 + 600j, 250 + 990j),
    straight(250 + 990j, 40 + 1000j),
    bent(40 + 1000j, 20 + 700j, -75 + 260j, 0 + 30j),
]
"""A front trouser leg a metre long."""

ROUND = [
    bent(60 + 0j, 105 + 0j, 120 + 30j, 120 + 60j),
    bent(120 + 60j, 120 + 93j, 93 + 120j, 60 + 120j),
    bent(60 + 120j, 20 + 120j, 0 + 100j, 0 + 60j),
    bent(0 + 60j, 0 + 28j, 15 + 0j, 60 + 0j),
]
"""A pocket without a corner."""

COLLAR = [
    bent(0 + 20j, 60 + 0j, 160 + 0j, 220 + 20j),
    straight(220 + 20j, 240 + 90j),
    bent(240 + 90j, 160 + 65j, 60 + 65j, -20 + 90j),
    straight(-20 + 90j, 0 + 20j),
]

AT_CORNERS = (
    Placed(1, 250 + 100j, 3),
    Placed(2, 240 + 380j, -88),
    Placed(3, 640 + 90j, -2),
    Placed(4, 940 + 110j, 92),
    Placed(5, 260 + 790j, 1),
    Placed(6, 200 + 770j, -91),
    Placed(7, 620 + 795j, 2),
    Placed(8, 905 + 500j, 88),
)
"""Two strips at each corner of a table of 130 by 95 cm, as a hand lays them."""

SLITS = (0.4, 0.75)
"""Notches are cut into the first straight line so far along it."""


def with_slits(line: Line) -> Line:
    """Return a straight line with slits, 2 mm wide and 6 deep, cut into its right side."""
    start, end = line
    way = (end - start) / abs(end - start)
    found = [start]
    for share in SLITS:
        at = start + (end - start) * share
        found += [at - way, at - way + 6j * way, at + way + 6j * way, at + way]
    return [*found, end]


def bodice_table(camera: Camera) -> tuple[Scene, list[list[Line]]]:
    lines = laid(BODICE, 460 + 250j, 4)
    cut = [*lines]
    cut[1] = with_slits(lines[1])
    return Scene(Table(1300, 950), [Card(around(cut))], AT_CORNERS, camera), [lines]


def trouser_table(camera: Camera) -> tuple[Scene, list[list[Line]]]:
    lines = laid(TROUSER_LEG, 1300 + 260j, 91)
    strips = [
        Placed(n, at, turned)
        for n, at, turned in (
            (1, 180 + 150j, 1),
            (2, 480 + 140j, -1),
            (3, 800 + 140j, 0),
            (4, 1080 + 150j, 2),
            (5, 1420 + 170j, 90),
            (6, 1430 + 440j, 88),
            (7, 180 + 690j, 0),
            (8, 500 + 705j, 1),
            (9, 830 + 700j, -2),
            (10, 1100 + 690j, 1),
            (11, 130 + 420j, -90),
            (12, 140 + 690j, -91),
        )
    ]
    table = Table(1550, 850, colour=(150, 112, 74), grain=7.0)
    return Scene(table, [Card(around(lines), (244, 242, 236))], strips, camera), [lines]


def small_table(camera: Camera) -> tuple[Scene, list[list[Line]]]:
    pieces = [laid(ROUND, 360 + 300j), laid(COLLAR, 560 + 480j, -20)]
    cards = [Card(around(lines), (178, 60, 70)) for lines in pieces]
    table = Table(1300, 950, colour=(226, 224, 220), grain=2.0)
    return Scene(table, cards, AT_CORNERS, camera), pieces


@dataclass(frozen=True)
class Nearness:
    """How far the corners and the line of a tracing lie from the card, its lines' lengths, and the
    motion that lays it there."""

    corners: float
    line: float
    lengths: list[tuple[float, float]]
    turn: complex = 1 + 0j
    shift: complex = 0j


def nearness(shape: Shape, lines: Sequence[Line]) -> Nearness:
    """Compare a tracing with the card, laid on it by its corners, or by its middle."""
    true = np.array([line[0] for line in lines])
    if not shape.corners:
        return _round(shape, lines)
    runs = _runs(shape)
    assert len(runs) == len(lines), f"{len(runs)} corners where there are {len(lines)}"
    found = np.array([run.start for run in runs])
    best: tuple[float, int, complex, complex] | None = None
    for k in range(len(runs)):
        turned = np.roll(found, -k)
        turn, shift = _rigid(turned, true)
        off = float(np.abs(turn * turned + shift - true).max())
        if best is None or off < best[0]:
            best = (off, k, turn, shift)
    assert best is not None
    off, k, turn, shift = best
    ring = LineString([(p.real, p.imag) for line in lines for p in line])
    there = (turn * p + shift for p in _along(shape.chain))
    away = max(ring.distance(Point(p.real, p.imag)) for p in there)
    turned = [*runs[k:], *runs[:k]]
    lengths = [(run.length, _length(line)) for run, line in zip(turned, lines, strict=True)]
    return Nearness(off, away, lengths, turn, shift)


def _round(shape: Shape, lines: Sequence[Line]) -> Nearness:
    """Compare shapes by how far their points lie from their middles, all round."""
    ring = around(lines)
    there, here = (
        Polygon([(p.real, p.imag) for p in each]) for each in (_along(shape.chain), ring)
    )
    moved = affinity.translate(
        there, here.centroid.x - there.centroid.x, here.centroid.y - there.centroid.y
    )
    away = min(
        affinity.rotate(moved, degrees / 2, "centroid").exterior.hausdorff_distance(here.exterior)
        for degrees in range(720)
    )
    return Nearness(0.0, away, [(shape.chain.length, _length([*ring, ring[0]]))])


def _rigid(found: np.ndarray, true: np.ndarray) -> tuple[complex, complex]:
    a, b = found - found.mean(), true - true.mean()
    turn = complex((b * a.conj()).sum())
    turn /= abs(turn)
    return turn, complex(true.mean() - turn * found.mean())


def _runs(shape: Shape) -> list[Chain]:
    """Return the lines from corner to corner."""
    starts = [
        k
        for k, cubic in enumerate(shape.chain.cubics)
        if min(abs(cubic.start - corner) for corner in shape.corners) < 1e-6
    ]
    assert starts[0] == 0
    ends = [*starts[1:], len(shape.chain.cubics)]
    return [Chain(shape.chain.cubics[a:b]) for a, b in zip(starts, ends, strict=True)]


def _along(chain: Chain) -> list[complex]:
    return [chain.point_at(mm) for mm in np.arange(0.0, chain.length, 2.0).tolist()]


def length_around(lines: Sequence[Line]) -> float:
    return sum(_length(line) for line in lines)


def _length(line: Line) -> float:
    return sum(abs(b - a) for a, b in pairwise(line))
