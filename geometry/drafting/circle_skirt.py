"""Circle skirts: front and back of a whole circle, or of three quarters, a half, a quarter of one.

Waist and hem are arcs about one point; the radius of the waist is the girth of the waist, with what
ease is wanted in it, divided by 2 pi and by the share of the circle (plane geometry: the waist is
that share of its circumference). Lengths in mm.

The front lies on the fold and the back is cut as a pair, each half of them a quarter of the whole,
as in the straight skirt, so that both are named alike. It hangs longer where it lies on the bias:
let it hang for a day and level its hem (common practice, no source). Made longer by `lengthen`,
its hem stays an arc.
"""

import cmath
import math
from collections.abc import Mapping

from trueup.geometry.drafting.base import BodyMeasurement, DraftingSystem
from trueup.geometry.drafting.straight_skirt import BACK, FRONT
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Level, Piece

_WIDEST_ARC = math.radians(15)
"""A curve stands for no more of a circle than this: it strays from it by less than 1e-9 of it."""

_GRAIN_FROM, _GRAIN_TO, _GRAIN_IN = 0.2, 0.8, 0.4

_SEAMS = (Seam("skirt-side-seam", (Run(FRONT, "side"),), (Run(BACK, "side"),)),)
_JOINS = (
    Join("skirt-waist-at-side", (FRONT, "waist", "waist-side"), (BACK, "waist", "waist-side")),
    Join("skirt-hem-at-side", (FRONT, "hem", "hem-side"), (BACK, "hem", "hem-side")),
)


def waist_radius(waist: float, share: float) -> float:
    """Return the radius of the waist of a skirt that is so much of a circle, mm.

    >>> [round(waist_radius(720.0, share), 1) for share in (1.0, 0.75, 0.5, 0.25)]
    [114.6, 152.8, 229.2, 458.4]
    """
    return waist / (2 * math.pi * share)


def _arc(centre: Point, radius: float, start: float, end: float) -> Chain:
    """Return an arc from one angle to another, radians, as curves that show it."""
    count = math.ceil(abs(end - start) / _WIDEST_ARC)
    step = (end - start) / count
    arm = 4 / 3 * math.tan(step / 4) * 1j
    cubics = []
    for k in range(count):
        one, other = (cmath.rect(radius, start + step * (k + n)) for n in (0, 1))
        cubics.append(
            Cubic(
                centre + one, centre + one * (1 + arm), centre + other * (1 - arm), centre + other
            )
        )
    return Chain.joining([Chain((cubic,)) for cubic in cubics])


def _piece(name: str, radius: float, length: float, angle: float, *, on_fold: bool) -> Piece:
    """Return half the front, its centre at the right, or the back, its centre at the left."""
    turned = angle if on_fold else -angle
    across = (radius + length) * math.sin(angle) if on_fold else 0.0
    middle = complex(across, -radius)
    down, aside = math.pi / 2, math.pi / 2 + turned
    waist = _arc(middle, radius, down, aside)
    hem = _arc(middle, radius + length, aside, down)
    edges = (
        Edge("waist", "waist-centre", "waist-side", (waist,)),
        Edge("side", "waist-side", "hem-side", (Chain.line(waist.end, hem.start),)),
        Edge("hem", "hem-side", "hem-centre", (hem,)),
        Edge("centre", "hem-centre", "waist-centre", (Chain.line(hem.end, waist.start),)),
    )
    top = radius + _GRAIN_FROM * length
    beside = _GRAIN_IN * top * min(math.tan(angle), 1.0) * (-1 if on_fold else 1)
    grain = (complex(across + beside, share * length) for share in (_GRAIN_FROM, _GRAIN_TO))
    return Piece(
        name,
        edges,
        grainline=Grainline(*grain),
        fold="centre" if on_fold else None,
        levels=(Level("waist", 0.0, "waist"),),
    )


def _system(name: str, share: float, words: str) -> DraftingSystem:
    """Return the system that drafts a skirt of a share of a circle."""

    def draw(body: Mapping[str, float]) -> Draft:
        radius, length = waist_radius(body["waist"], share), body["skirt-length"]
        angle = share * math.pi / 2
        pieces = (
            _piece(FRONT, radius, length, angle, on_fold=True),
            _piece(BACK, radius, length, angle, on_fold=False),
        )
        return Draft(pieces, _SEAMS, _JOINS)

    return DraftingSystem(
        name,
        f"{words}, front and back",
        (
            BodyMeasurement("waist", "girth of the natural waist", 480, 1250),
            BodyMeasurement("skirt-length", "length from waist to hem", 200, 1300),
        ),
        draw,
    )


CIRCLE_SKIRTS = (
    _system("circle-skirt", 1.0, "skirt of a whole circle"),
    _system("three-quarter-circle-skirt", 0.75, "skirt of three quarters of a circle"),
    _system("half-circle-skirt", 0.5, "skirt of half a circle"),
    _system("quarter-circle-skirt", 0.25, "skirt of a quarter of a circle"),
)
