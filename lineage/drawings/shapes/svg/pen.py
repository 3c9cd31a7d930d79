"""Follow the path data of an SVG element, its curves and arcs taken as cubics in mm."""

import cmath
from dataclasses import dataclass, field
from math import ceil, pi, radians, sqrt, tan

from fontTools.pens.basePen import BasePen

from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point
from trueup.lineage.drawings.safe_svg import TooFar, require_near
from trueup.lineage.drawings.shapes.affine import Affine
from trueup.lineage.limits import MOST_POINTS

_WIDEST = pi / 6
"""No cubic stands for more of an arc, radians: it strays by less than a millionth of the radius."""


@dataclass
class PathRun:
    """One run of a path: its curves, and whether it was closed."""

    cubics: list[Cubic] = field(default_factory=list)
    is_closed: bool = False


class ChainPen(BasePen):  # type: ignore[misc]
    """Follows a path and keeps its runs, in mm on the page."""

    def __init__(self, motion: Affine) -> None:
        super().__init__(None)
        self.runs: list[PathRun] = []
        self._motion = motion
        self._start = (0.0, 0.0)
        self._count = 0

    @property
    def is_closed(self) -> bool:
        """Return whether any of its runs is closed."""
        return any(run.is_closed for run in self.runs)

    def _moveTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        require_near(pt)
        self._start = pt
        self.runs.append(PathRun())

    def _lineTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        require_near(pt)
        start, end = (self._placed(p) for p in (self._getCurrentPoint(), pt))
        if start != end:
            self._add(Cubic.line(start, end))

    def _curveToOne(  # noqa: N802
        self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]
    ) -> None:
        require_near(pt1, pt2, pt3)
        self._add(Cubic(*(self._placed(p) for p in (self._getCurrentPoint(), pt1, pt2, pt3))))

    def _closePath(self) -> None:  # noqa: N802
        self._lineTo(self._start)
        self.runs[-1].is_closed = True

    def _placed(self, pt: tuple[float, float]) -> Point:
        placed = self._motion(complex(*pt))
        require_near((placed.real, placed.imag))
        return placed

    def _add(self, cubic: Cubic) -> None:
        self._count += 1
        if self._count > MOST_POINTS:
            raise TooFar(f"its path has more than {MOST_POINTS} points")
        self.runs[-1].cubics.append(cubic)


class ArcPen(ChainPen):
    """One that follows arcs too."""

    def arcTo(  # noqa: N802
        self,
        across: float,
        down: float,
        turned: float,
        large: bool,
        sweep: bool,
        end: tuple[float, float],
    ) -> None:
        """Follow an arc of an ellipse to its end."""
        start = complex(*self._getCurrentPoint())
        require_near((across, down), end)
        if not (across and down):
            self.lineTo(end)
            return
        for cubic in arc(start, abs(across), abs(down), turned, large, sweep, complex(*end)):
            one, other, to = ((p.real, p.imag) for p in tuple(cubic)[1:])
            self.curveTo(one, other, to)


def arc(
    start: Point, across: float, down: float, turned: float, large: bool, sweep: bool, end: Point
) -> list[Cubic]:
    """Return an arc of an ellipse, its half axes not nought, `turned` degrees; none to itself.

    Source: W3C, SVG 1.1 (Second Edition), appendix F.6, elliptical arc implementation notes.
    """
    if start == end:
        return []
    turn = cmath.rect(1.0, radians(turned))

    def round_(p: Point) -> Point:
        p = p / turn
        return complex(p.real / across, p.imag / down)

    half = round_((start - end) / 2)
    wider = max(abs(half), 1.0)
    half /= wider
    aside = 1j * half * sqrt(max(1 / abs(half) ** 2 - 1, 0.0))
    middle = aside if large == sweep else -aside
    first, last = half - middle, -half - middle
    swept = cmath.phase(last / first)
    if sweep and swept < 0:
        swept += 2 * pi
    elif not sweep and swept > 0:
        swept -= 2 * pi
    count = max(ceil(abs(swept) / _WIDEST), 1)
    step = cmath.rect(1.0, swept / count)
    arm = 4 / 3 * tan(swept / count / 4) * 1j

    def flat(p: Point) -> Point:
        p = (p + middle) * wider
        return complex(p.real * across, p.imag * down) * turn + (start + end) / 2

    cubics, at, here = [], first, start
    for k in range(count):
        to = at * step
        there = end if k == count - 1 else flat(to)
        cubics.append(Cubic(here, flat(at * (1 + arm)), flat(to * (1 - arm)), there))
        at, here = to, there
    return cubics
