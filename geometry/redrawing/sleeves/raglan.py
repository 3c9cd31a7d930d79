"""Lay the upper parts of front and back on a sleeve, and draw the sleeve of a raglan round them.

Each part lies rigidly: the end of its line lies at the sewn length from the underarm that the
armhole keeps, and both shoulders run on straight to one point on the arm, as far from both neck
points, where the shoulder dart ends. Lengths in mm.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Motion, Point, cross, dot, turn_between, unit
from trueup.geometry.pieces.sleeve_cap import crown
from trueup.geometry.redrawing.between_tangents import tightest
from trueup.geometry.tolerance import SAME_LENGTH, TIGHTEST_RADIUS

_ROUNDS, _STILL = 60, 1e-13
_STEP, _FARTHEST = 8.0, 300.0
LEAST_BEYOND = 5.0
"""The shoulder dart runs on beyond both shoulder points by at least so much (no source)."""

_THIRD, _QUARTER, _LEAST_SHARE = 1 / 3, 1 / 4, 1 / 8
_OF_REACH = 4 / 9
"""How far a curve stands out there where one control at its third does, at the third itself."""

_SAMPLES = 96


def raglan_line(
    start: Point, heading: complex, end: Point, above: Point, out: float | None
) -> Chain:
    """Return a line from the armhole to the neck, in the direction of the armhole as it comes up.

    It runs all but straight to the neck. Where `out` is given, it stands out by so much from the
    straight way, towards the point `above`; else as it comes.
    """
    way = end - start
    long, ahead = abs(way), unit(way)
    outwards = ahead * (1j if cross(ahead, above - start) > 0 else -1j)
    aside = dot(unit(heading), outwards)
    reach = _QUARTER * long
    if out is not None and aside > 0:
        reach = max(_LEAST_SHARE * long, min(_THIRD * long, out / (_OF_REACH * aside)))

    def drawn(lift: float) -> Cubic:
        before_end = end - _THIRD * way + lift * outwards
        return Cubic(start, start + reach * unit(heading), before_end, end)

    def lacking(lift: float) -> float:
        curve = drawn(lift)
        points = (curve.point(k / _SAMPLES) for k in range(_SAMPLES + 1))
        return max(dot(point - start, outwards) for point in points) - (out or 0.0)

    lift = 0.0
    if out is not None:
        lift = root_between(lacking, -_THIRD * long, long, SAME_LENGTH) or 0.0
    return Chain((drawn(lift),))


def leads_above(start: Point, heading: complex, end: Point, above: Point) -> float:
    """Return how far above a place on the neck an armhole leads that comes up so, radians.

    Above is towards the shoulder point; it is negative where the armhole leads below the place.
    """
    way = end - start
    turn = turn_between(way, heading)
    return turn if cross(way, above - start) > 0 else -turn


def _easy_curve(start: Point, leaving: complex, end: Point, arriving: complex) -> Cubic:
    """Return one fair curve with given directions at its ends, also where it turns unevenly.

    Source: J. D. Hobby, Smooth, easy to compute interpolating splines (1986).
    """
    way = end - start
    before, behind = turn_between(way, leaving), turn_between(arriving, way)
    reach = [_reach(*turns) * abs(way) for turns in ((before, behind), (behind, before))]
    near, far = start + unit(leaving) * reach[0], end - unit(arriving) * reach[1]
    return Cubic(start, near, far, end)


def _reach(here: float, there: float) -> float:
    """Return how far the control at one end reaches, of the way, for the turns at both, radians."""
    sines = math.sin(here), math.sin(there)
    uneven = math.sqrt(2) * (sines[0] - sines[1] / 16) * (sines[1] - sines[0] / 16)
    uneven *= math.cos(here) - math.cos(there)
    root = math.sqrt(5)
    wide = 1 + (root - 1) / 2 * math.cos(here) + (3 - root) / 2 * math.cos(there)
    return (2 + uneven) / (3 * wide)


@dataclass(frozen=True)
class Upper:
    """What goes over to the sleeve from front or back, in the paper of that piece.

    `line` runs from the armhole to the neck, `neck` on to the neck point; the `rest` is the sewn
    length of the armhole below.
    """

    line: Chain
    neck: Chain
    shoulder: Point
    rest: float

    @property
    def long(self) -> float:
        """Return how long the shoulder is, straight."""
        return abs(self.shoulder - self.neck.end)

    def ahead(self, leg: float) -> Point:
        """Return the point so far from the neck point, along the shoulder and beyond."""
        return self.neck.end + unit(self.shoulder - self.neck.end) * leg


@dataclass(frozen=True)
class LaidUpper:
    """An upper part as it lies on the sleeve, and the cap `below` it, from the underarm on."""

    upper: Upper
    motion: Motion
    below: Chain

    @property
    def line(self) -> Chain:
        """Return the raglan line on the sleeve, from the cap to the neck."""
        return self.upper.line.moved(self.motion).starting_at(self.below.end)

    @property
    def neck(self) -> Chain:
        """Return the bit of neck on the sleeve, to the neck point."""
        return self.upper.neck.moved(self.motion).starting_at(self.line.end)


@dataclass(frozen=True)
class LaidRaglan:
    """Both upper parts on the sleeve, and the point where the shoulder dart ends."""

    front: LaidUpper
    back: LaidUpper
    tip: Point


def _is_easy(laid: LaidRaglan) -> bool:
    """Return whether the cap below both lines bends as widely as can be sewn."""
    curves = (each.below.cubics[0] for each in (laid.front, laid.back))
    return min(map(tightest, curves)) > TIGHTEST_RADIUS


@dataclass(frozen=True)
class Raglan:
    """The upper parts of front and back, and the cap of the sleeve that they are to be laid on.

    The cap runs from the front underarm to the back underarm.
    """

    cap: Chain
    front: Upper
    back: Upper

    @property
    def _up(self) -> complex:
        way = unit(self.cap.end - self.cap.start)
        return way * (1j if crown(self.cap).rise > 0 else -1j)

    def _below(self, upper: Upper, rotation: complex) -> Chain:
        """Return the cap below the line, from the underarm on, when that is turned so.

        It leaves the underarm as it did and runs on smoothly as the line; so that it is as long as
        the armhole it is sewn to, it ends a little nearer to the underarm than the old cap did.
        """
        old = self.cap if upper is self.front else self.cap.reversed()
        corner = old.start
        way = old.point_at(upper.rest) - corner
        ends = old.start_tangent, upper.line.start_tangent * rotation
        as_far = _easy_curve(corner, ends[0], corner + way, ends[1])
        nearer = corner + way * upper.rest / as_far.length
        return Chain((_easy_curve(corner, ends[0], nearer, ends[1]),))

    def laid(self, leg: float) -> LaidRaglan | None:
        """Return how they lie when the legs of the shoulder dart are so long; None if they cannot.

        The point where the dart ends is as far from both places on the cap as it is from them in
        the paper of front and back: it lies where two circles meet.
        """
        uppers = self.front, self.back
        ways = [upper.ahead(leg) - upper.line.start for upper in uppers]
        turned = (1 + 0j, 1 + 0j)
        for _ in range(_ROUNDS):
            below = [self._below(*each) for each in zip(uppers, turned, strict=True)]
            tip = self._tip(below[0].end, abs(ways[0]), below[1].end, abs(ways[1]))
            if tip is None:
                return None
            found = [unit((tip - b.end) / way) for b, way in zip(below, ways, strict=True)]
            step = max(abs(new - old) for new, old in zip(found, turned, strict=True))
            turned = found[0], found[1]
            if step < _STILL:
                break
        front, back = (
            LaidUpper(upper, Motion(turn, b.end - turn * upper.line.start), b)
            for upper, turn, b in zip(uppers, turned, below, strict=True)
        )
        assert tip is not None
        return LaidRaglan(front, back, tip)

    def _tip(self, front: Point, from_front: float, back: Point, from_back: float) -> Point | None:
        way = back - front
        along = (from_front**2 - from_back**2 + abs(way) ** 2) / (2 * abs(way))
        square = from_front**2 - along**2
        if square < 0:
            return None
        across = unit(way) * (1j if dot(unit(way) * 1j, self._up) > 0 else -1j)
        return front + unit(way) * along + across * float(square**0.5)

    def rise(self, laid: LaidRaglan) -> float:
        """Return how much higher than the crown the shoulder points lie, both taken together."""
        points = [each.motion(each.upper.shoulder) for each in (laid.front, laid.back)]
        high = sum(dot(point - self.cap.start, self._up) for point in points) / 2
        return high - abs(crown(self.cap).rise)

    def found(self, rise: float) -> LaidRaglan | None:
        """Return how they lie when the shoulder points rise so far above the crown, or None."""

        def lacking(leg: float) -> float:
            laid = self.laid(leg)
            assert laid is not None
            return self.rise(laid) - rise

        before: tuple[float, float] | None = None
        for leg, reached in self._risen():
            if before is not None and (before[1] - rise) * (reached - rise) <= 0:
                root = root_between(lacking, before[0], leg, SAME_LENGTH)
                return None if root is None else self.laid(root)
            before = leg, reached
        return None

    def possible(self) -> tuple[float, float] | None:
        """Return the least and the most by which the shoulder points can rise; None for no way."""
        reached = [each for _, each in self._risen()]
        return (min(reached), max(reached)) if reached else None

    @property
    def reach(self) -> bool:
        """Return whether the upper parts reach each other over the arm at all."""
        return any(self.laid(leg) for leg in self._legs())

    def _legs(self) -> Iterator[float]:
        least = max(self.front.long, self.back.long) + LEAST_BEYOND
        return (least + k * _STEP for k in range(int(_FARTHEST / _STEP)))

    def _risen(self) -> Iterator[tuple[float, float]]:
        """Yield lengths of the legs with how far the shoulder points rise then, while they do."""
        highest = -float("inf")
        for leg in self._legs():
            laid = self.laid(leg)
            if laid is None or not _is_easy(laid):
                continue
            reached = self.rise(laid)
            if reached < highest:
                return
            highest = reached
            yield leg, reached
