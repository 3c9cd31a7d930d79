"""The cap of a sleeve as a line over its width: where its crown is, how to widen and raise it.

Everything is seen from the cap line, the straight line between the two underarm points: along it
lies the width, square to it the height. Each half of the cap, front and back of the crown, is
scaled by itself, so that both underarm points move out equally wherever the crown lies.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from msgspec.structs import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.kept import kept
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point
from trueup.geometry.lines.polynomials import roots_inside
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.said import Said, said
from trueup.geometry.tolerance import SAME_POINT


@dataclass(frozen=True)
class Crown:
    """The highest point of a cap, seen from its cap line, mm.

    `before` and `after` are the widths of the cap line to either side of it, `rise` its height
    above it (signed, by the side of the travel it lies on), `index` and `t` its curve and
    parameter.
    """

    before: float
    after: float
    rise: float
    index: int
    t: float


@lru_cache(maxsize=64)
def crown(cap: Chain) -> Crown:
    """Return the crown of a cap line that runs from underarm point to underarm point.

    Raises DoesNotFit when the two points are one or the cap is flat, for then it has no crown.
    """
    width = abs(cap.end - cap.start)
    if width < SAME_POINT:
        raise _no_crown(said("underarm-points-one"))
    across = (cap.end - cap.start) / width
    best = Crown(0.0, width, 0.0, 0, 0.0)
    for index, cubic in enumerate(cap.cubics):
        seen = Cubic(*((point - cap.start) / across for point in cubic))
        for t in (*_level_places(seen), 0.0, 1.0):
            place = seen.point(t)
            if abs(place.imag) > abs(best.rise):
                best = Crown(place.real, width - place.real, place.imag, index, t)
    if abs(best.rise) < SAME_POINT:
        raise _no_crown(said("cap-flat"))
    return best


def _level_places(cubic: Cubic) -> list[float]:
    """Return candidates for the parameters at which a curve runs level."""
    a, b, c, d = (point.imag for point in cubic)
    return roots_inside((d - 3 * c + 3 * b - a, 2 * (a - 2 * b + c), b - a))


def _no_crown(reason: Said) -> DoesNotFit:
    return DoesNotFit(reason, said("redraw-cap-first"))


def cap_height(cap: Edge) -> float:
    """Return how far the crown rises above the cap line, darts closed, mm; 0 for a flat cap."""
    try:
        return abs(crown(closed(cap).chain).rise)
    except DoesNotFit:
        return 0.0


@dataclass(frozen=True)
class ScaledCap:
    """A cap line, and the same with both ends moved out by `out` mm, the crown raised by `up` mm.

    The crown moves `aside` mm along the cap line, away from its start. The two halves meet at the
    crown, where the line runs level, so it stays smooth there.
    Raises DoesNotFit when a half would lose its width or the cap its height.
    """

    old: Chain
    out: float
    up: float
    aside: float = 0.0

    def __post_init__(self) -> None:
        before, after = self._top.before + self.aside, self._top.after - self.aside
        room, height = min(before, after), abs(self._top.rise)
        if room + self.out < SAME_POINT or height + self.up < SAME_POINT:
            reason = said("cap-size", height=height, room=room)
            raise DoesNotFit(reason, said("take-off-less"))

    @property
    def _top(self) -> Crown:
        return crown(self.old)

    @kept
    def chain(self) -> Chain:
        """Return the new cap line."""
        before, after = halves(self.old)
        wider = 1 + (self.out + self.aside) / self._top.before
        narrower = 1 + (self.out - self.aside) / self._top.after
        cubics = [*self._placed(before, wider), *self._placed(after, narrower)]
        move = self._across * self.out
        return _meeting(cubics, self.old.start - move, self.old.end + move)

    @property
    def _across(self) -> complex:
        return (self.old.end - self.old.start) / abs(self.old.end - self.old.start)

    def _placed(self, cubics: Iterable[Cubic], wider: float) -> Iterator[Cubic]:
        start, across, before = self.old.start, self._across, self._top.before
        higher = 1 + self.up / abs(self._top.rise)

        def place(point: Point) -> Point:
            seen = (point - start) / across
            along = before + self.aside + (seen.real - before) * wider
            return start + across * complex(along, seen.imag * higher)

        return (Cubic(*map(place, cubic)) for cubic in cubics)

    def carried(self, length: float) -> float:
        """Return where a mark, so many mm along the old line, comes to lie on the new one, mm."""
        index = 0
        cubics = [cubic for half in halves(self.old) for cubic in half]
        while index < len(cubics) - 1 and length > cubics[index].length:
            length -= cubics[index].length
            index += 1
        inside = cubics[index].parameter_at(length)
        done = sum(cubic.length for cubic in self.chain.cubics[:index])
        return done + self.chain.cubics[index].length_between(0.0, inside)


@lru_cache(maxsize=64)  # a cap is solved for the same ease in several versions of a sleeve
def scaled(cap: Chain, out: float, up: float, aside: float = 0.0) -> ScaledCap:
    """Return a cap line with both ends moved out, and its crown up and aside, mm (`ScaledCap`).

    Raises DoesNotFit when a half would lose its width or the cap its height.
    """
    return ScaledCap(cap, out, up, aside)


@lru_cache(maxsize=64)
def halves(cap: Chain) -> tuple[tuple[Cubic, ...], tuple[Cubic, ...]]:
    """Return the curves of a cap before its crown and after it."""
    top = crown(cap)
    before, at, after = cap.cubics[: top.index], cap.cubics[top.index], cap.cubics[top.index + 1 :]
    if at.length_between(0.0, top.t) < SAME_POINT:
        return before, (at, *after)
    if at.length_between(top.t, 1.0) < SAME_POINT:
        return (*before, at), after
    left, right = at.split(top.t)
    return (*before, left), (right, *after)


def _meeting(cubics: list[Cubic], start: Point, end: Point) -> Chain:
    """Return the cubics as one line from start to end, their joins made to meet exactly."""
    joins = [start, *(after.start for _, after in pairwise(cubics)), end]
    return Chain(
        tuple(
            replace(cubic, start=low, end=high)
            for cubic, (low, high) in zip(cubics, pairwise(joins), strict=True)
        )
    )
