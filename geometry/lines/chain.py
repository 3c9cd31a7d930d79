"""A run of cubics end to end: a seam line, or part of one."""

import bisect
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import accumulate, pairwise, product

from msgspec import Struct
from msgspec.structs import replace
from shapely.geometry import LineString

from trueup.geometry.errors import BrokenOutline
from trueup.geometry.kept import kept
from trueup.geometry.limits import MOST_CURVES
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import STILL, Motion, Point
from trueup.geometry.said import Said, said
from trueup.geometry.tolerance import FLATTEN, SAME_POINT


class Chain(Struct, frozen=True, dict=True, cache_hash=True):
    """Cubics that share their end points exactly; at least one. Lengths along it are in mm."""

    cubics: tuple[Cubic, ...]

    def __post_init__(self) -> None:
        if not self.cubics:
            raise BrokenOutline(said("no-curve"))
        for before, after in pairwise(self.cubics):
            if before.end != after.start:
                raise BrokenOutline(_gap(before.end, after.start))

    @classmethod
    def line(cls, *points: Point) -> "Chain":
        """Return the straight lines from point to point."""
        return cls(tuple(Cubic.line(a, b) for a, b in pairwise(points)))

    @classmethod
    def joining(cls, chains: Iterable["Chain"]) -> "Chain":
        """Return chains laid end to end as one, their ends made to meet exactly.

        Raises BrokenOutline when two ends that should meet lie apart by more than rounding noise.
        """
        cubics: list[Cubic] = []
        for chain in chains:
            if cubics and abs(chain.start - cubics[-1].end) > 10 * SAME_POINT:
                raise BrokenOutline(_gap(cubics[-1].end, chain.start))
            following = chain.starting_at(cubics[-1].end) if cubics else chain
            cubics.extend(following.cubics)
        return cls(tuple(cubics))

    @property
    def start(self) -> Point:
        """Return the first point."""
        return self.cubics[0].start

    @property
    def end(self) -> Point:
        """Return the last point."""
        return self.cubics[-1].end

    @kept
    def _stations(self) -> tuple[float, ...]:
        return tuple(accumulate((cubic.length for cubic in self.cubics), initial=0.0))

    @property
    def length(self) -> float:
        """Return the arc length, mm."""
        return self._stations[-1]

    def _locate(self, length: float) -> tuple[int, float]:
        # Curves of no length at the end of a line have no direction to tell: stop before them.
        last = bisect.bisect_left(self._stations, self.length, 1)
        index = bisect.bisect_right(self._stations, length, 1, last) - 1
        return index, self.cubics[index].parameter_at(length - self._stations[index])

    def point_at(self, length: float) -> Point:
        """Return the point so many mm along from the start (clamped to the ends)."""
        index, t = self._locate(length)
        return self.cubics[index].point(t)

    def tangent_at(self, length: float) -> complex:
        """Return the unit direction of travel so many mm along."""
        index, t = self._locate(length)
        return self.cubics[index].tangent(t)

    def place_at(self, length: float) -> tuple[Point, complex]:
        """Return the point so many mm along, and the unit direction of travel there."""
        index, t = self._locate(length)
        return self.cubics[index].point(t), self.cubics[index].tangent(t)

    def normal_at(self, length: float) -> complex:
        """Return the unit normal, a quarter turn clockwise on paper from the travel."""
        return self.tangent_at(length) * 1j

    @property
    def start_tangent(self) -> complex:
        """Return the unit direction in which the line sets out."""
        return _with_direction(self.cubics).tangent(0.0)

    @property
    def end_tangent(self) -> complex:
        """Return the unit direction in which the line arrives."""
        return _with_direction(self.cubics[::-1]).tangent(1.0)

    def split_at(self, length: float) -> tuple["Chain", "Chain"]:
        """Return the line before and after a point so many mm along, strictly inside it.

        Raises BrokenOutline when the point is not inside.
        """
        if not SAME_POINT < length < self.length - SAME_POINT:
            raise BrokenOutline(said("cannot-split", length=self.length, at=length))
        index, t = self._locate(length)
        before, after = self.cubics[:index], self.cubics[index + 1 :]
        station = self._stations[index]
        if length - station < SAME_POINT:
            return Chain(before), Chain((self.cubics[index], *after))
        if self._stations[index + 1] - length < SAME_POINT:
            return Chain((*before, self.cubics[index])), Chain(after)
        left, right = self.cubics[index].split(t)
        return Chain((*before, left)), Chain((right, *after))

    def between(self, low: float, high: float) -> "Chain":
        """Return the part between two lengths; the whole where they reach the ends."""
        part = self
        if high < self.length - SAME_POINT:
            part = part.split_at(high)[0]
        if low > SAME_POINT:
            part = part.split_at(low)[1]
        return part

    def reversed(self) -> "Chain":
        """Return the same line travelled the other way."""
        return Chain(tuple(c.reversed() for c in reversed(self.cubics)))

    def moved(self, motion: Motion) -> "Chain":
        """Return the line after a rigid motion."""
        # Ends that are one point are moved to one point, by the same sum.
        return self if motion == STILL else Chain(tuple(c.moved(motion) for c in self.cubics))

    def mapped(self, take: Callable[[Point], Point]) -> "Chain":
        """Return the line with each of its control points taken to another place."""
        return Chain(tuple(Cubic(*(take(point) for point in cubic)) for cubic in self.cubics))

    def starting_at(self, point: Point) -> "Chain":
        """Return the line with its start put exactly on a point; meant for rounding noise only."""
        first = self.cubics[0]
        if first.start == point:
            return self
        step = point - first.start
        moved = replace(first, start=point, start_control=first.start_control + step)
        return Chain((moved, *self.cubics[1:]))

    def ending_at(self, point: Point) -> "Chain":
        """Return the line with its end put exactly on a point; meant for rounding noise only."""
        last = self.cubics[-1]
        if last.end == point:
            return self
        step = point - last.end
        moved = replace(last, end=point, end_control=last.end_control + step)
        return Chain((*self.cubics[:-1], moved))

    def fitted_between(self, start: Point, end: Point) -> "Chain":
        """Return the line turned and scaled so that its ends lie on two given points.

        Raises BrokenOutline when the line ends where it starts, for then it has no direction.
        """
        if abs(self.end - self.start) < SAME_POINT:
            raise BrokenOutline(said("no-direction"))
        scale = (end - start) / (self.end - self.start)
        points = [[start + scale * (p - self.start) for p in cubic] for cubic in self.cubics]
        for before, after in pairwise(points):
            after[0] = before[-1]
        points[0][0], points[-1][-1] = start, end
        return Chain(tuple(Cubic(*four) for four in points))

    def cut_at(self, lengths: Sequence[float]) -> "Chain":
        """Return the same line with joins added at the given lengths (those inside it).

        Raises BrokenOutline for a line of more curves than are ever cut finer.
        """
        return Chain(tuple(cubic for cubic, _ in self.cubics_to(lengths)))

    def cubics_to(self, lengths: Sequence[float]) -> Iterator[tuple[Cubic, float]]:
        """Yield the curves of the line cut at the given lengths, each with the length at its end.

        Raises BrokenOutline for a line of more curves than are ever cut finer.
        """
        if len(self.cubics) > MOST_CURVES:
            raise BrokenOutline(said("too-many-curves", most=f"{MOST_CURVES:,}"))
        wanted = sorted(lengths)
        for cubic, (low, high) in zip(self.cubics, pairwise(self._stations), strict=True):
            rest, cut, done = cubic, low, 0.0
            for length in wanted:
                if cut + SAME_POINT < length < high - SAME_POINT:
                    t = cubic.parameter_at(length - low)
                    part, rest = rest.split((t - done) / (1 - done))
                    yield part, length
                    cut, done = length, t
            yield rest, high

    def crossings(self, origin: Point, direction: complex) -> list[float]:
        """Return the lengths along the line where it meets an endless straight line."""
        found: list[float] = []
        for index, t in self._met(origin, direction):
            station, cubic = self._stations[index], self.cubics[index]
            length = station + (cubic.length_between(0.0, t) if t > 0 else 0.0)
            if not found or length - found[-1] > SAME_POINT:
                found.append(length)
        return found

    def meetings(self, origin: Point, direction: complex) -> list[Point]:
        """Return the points, in order, where the line meets an endless straight line.

        One that lies on the join of two curves may stand twice.
        """
        return [self.cubics[index].point(t) for index, t in self._met(origin, direction)]

    def _met(self, origin: Point, direction: complex) -> Iterator[tuple[int, float]]:
        """Yield the curve and the parameter of each place where it meets a straight line."""
        back = direction.conjugate() / abs(direction)
        level = (origin * back).imag
        if not _on_both_sides(self._corners, back, level):
            return
        for index, cubic in enumerate(self.cubics):
            if _on_both_sides(cubic, back, level):
                for t in cubic.crossings(origin, direction):
                    yield index, t

    @kept
    def _corners(self) -> tuple[Point, ...]:
        """Return the corners of a box about the control points, and so about the line."""
        points = [point for cubic in self.cubics for point in cubic]
        across, down = [p.real for p in points], [p.imag for p in points]
        sides = (min(across), max(across)), (min(down), max(down))
        return tuple(complex(x, y) for x, y in product(*sides))

    def nearest(self, point: Point) -> float:
        """Return the length along the line at which it comes nearest to a point."""
        best, best_distance = 0.0, abs(point - self.start)
        within = min(abs(point - cubic.end) for cubic in self.cubics)
        for station, cubic in zip(self._stations, self.cubics, strict=False):
            if abs(point - cubic.start) - cubic.span > min(best_distance, within):
                continue
            t = cubic.nearest(point)
            distance = abs(cubic.point(t) - point)
            if distance < best_distance:
                best = station + (cubic.length_between(0.0, t) if t > 0 else 0.0)
                best_distance = distance
        return best

    def flattened(self, tolerance: float = FLATTEN) -> list[Point]:
        """Return points along the line, ends included, no chord straying beyond tolerance mm."""
        if tolerance == FLATTEN:
            return [*self._flat]
        return [self.start, *(p for c in self.cubics for p in c.flattened(tolerance))]

    @kept
    def _flat(self) -> tuple[Point, ...]:
        return (self.start, *(p for c in self.cubics for p in c.flat_points))

    @kept
    def swept_area(self) -> float:
        """Return ½∮(x dy − y dx) along the line, mm²."""
        return sum(c.swept_area for c in self.cubics)

    @kept
    def crosses_itself(self) -> bool:
        """Return whether the line crosses itself."""
        points = [(p.real, p.imag) for p in self.flattened()]
        return not LineString(points).is_simple


def _gap(end: Point, start: Point) -> Said:
    return said("line-gap", end=str(end), start=str(start))


def _on_both_sides(points: Iterable[Point], back: complex, level: float) -> bool:
    """Return whether points lie on both sides of a line that `back` turns level, or on it."""
    heights = [(point * back).imag for point in points]
    return min(heights) - level <= SAME_POINT and max(heights) - level >= -SAME_POINT


def _with_direction(cubics: Sequence[Cubic]) -> Cubic:
    """Return the first curve that is more than a point, since a point has no direction."""
    return next((cubic for cubic in cubics if cubic.length > SAME_POINT), cubics[0])
