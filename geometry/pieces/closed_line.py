"""An edge with its darts closed: one smooth line, worked on as it is sewn, then opened again."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Motion, Point, degrees_between, dot
from trueup.geometry.pieces.dart import Dart, Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT


@dataclass(frozen=True)
class ClosedDart:
    """A closed dart as it lies beside the closed line: its apex, and where its seam meets it."""

    dart: Dart
    apex: Point
    meets: Point


@dataclass(frozen=True)
class ClosedLine:
    """An edge whose darts are closed, each by turning what follows about its apex.

    `chain` lies in the paper of the edge's first part; `motions[k]` brings paper of part k there.
    """

    edge: Edge
    chain: Chain
    darts: tuple[ClosedDart, ...]
    motions: tuple[Motion, ...]

    @property
    def dart_stations(self) -> tuple[float, ...]:
        """Return the lengths along the closed line at which its darts meet it, mm."""
        stations, total = [], 0.0
        for part in self.edge.parts[:-1]:
            total += part.length
            stations.append(total)
        return tuple(stations)

    def to_closed_end(self, point: Point) -> Point:
        """Return where a point of the last part's paper lies beside the closed line."""
        return self.motions[-1](point)

    def kink_degrees(self, dart: str) -> float:
        """Return by how many degrees the closed line turns where a dart meets it."""
        index = next(k for k, closed in enumerate(self.darts) if closed.dart.name == dart)
        arriving = self.edge.parts[index].end_tangent * self.motions[index].rotation
        leaving = self.edge.parts[index + 1].start_tangent * self.motions[index + 1].rotation
        return degrees_between(arriving, leaving)

    def opened(self, chain: Chain) -> Edge:
        """Return the edge with its darts opened again on a new line drawn over the closed one.

        Each dart keeps its apex and its angle; its legs end where its closed seam, drawn on or cut
        short, meets the new line, so they are equal. Raises DoesNotFit when it does not meet it.
        """
        if not self.darts:
            return replace(self.edge, parts=(_snapped(chain, self.edge.start, self.edge.end),))
        stations = [0.0, *(self._meeting(closed, chain) for closed in self.darts), chain.length]
        parts = []
        for index, motion in enumerate(self.motions):
            low, high = stations[index], stations[index + 1]
            if high - low < 2 * SAME_POINT:
                raise self._out_of_reach(self.darts[min(index, len(self.darts) - 1)])
            parts.append(chain.between(low, high).moved(motion.inverse()))
        parts[0] = _snapped(parts[0], self.edge.start, parts[0].end)
        parts[-1] = _snapped(parts[-1], parts[-1].start, self.edge.end)
        return replace(self.edge, parts=tuple(parts))

    def _meeting(self, closed: ClosedDart, chain: Chain) -> float:
        seam = closed.meets - closed.apex
        ahead = [
            length
            for length in chain.crossings(closed.apex, seam)
            if dot(chain.point_at(length) - closed.apex, seam) > 0
        ]
        if not ahead:
            raise self._out_of_reach(closed)
        return min(ahead, key=lambda length: abs(chain.point_at(length) - closed.meets))

    def _out_of_reach(self, closed: ClosedDart) -> DoesNotFit:
        dart = closed.dart.name
        reason, possible = said("dart-not-met", dart=dart), said("smaller-or-move-dart")
        return DoesNotFit(reason, possible, edge=self.edge.name, dart=dart)


def _snapped(chain: Chain, start: Point, end: Point) -> Chain:
    """Return the line with each end put on a point that it lies at but for rounding noise."""
    if abs(chain.start - start) < 10 * SAME_POINT:
        chain = chain.starting_at(start)
    return chain.ending_at(end) if abs(chain.end - end) < 10 * SAME_POINT else chain


@lru_cache(maxsize=256)
def closed(edge: Edge) -> ClosedLine:
    """Return an edge with all its darts closed, from its start to its end."""
    motion = Motion()
    chains, darts, motions = [edge.parts[0]], [], [motion]
    for mouth, part in zip(edge.mouths, edge.parts[1:], strict=True):
        darts.append(_closed_dart(mouth, motion))
        motion = motion.after(Motion.bringing(mouth.second, mouth.first, mouth.dart.apex))
        motions.append(motion)
        chains.append(part.moved(motion))
    return ClosedLine(edge, end_to_end(chains), tuple(darts), tuple(motions))


def _closed_dart(mouth: Mouth, motion: Motion) -> ClosedDart:
    return ClosedDart(mouth.dart, motion(mouth.dart.apex), motion(mouth.first))


def end_to_end(chains: list[Chain]) -> Chain:
    """Return chains laid end to end; where a dart's legs differ, a straight step joins the two."""
    if len(chains) == 1:
        return chains[0]
    cubics = list(chains[0].cubics)
    for chain in chains[1:]:
        gap = chain.start - cubics[-1].end
        if abs(gap) < 10 * SAME_POINT:
            cubics.extend(chain.starting_at(cubics[-1].end).cubics)
        else:
            cubics.extend(Chain.line(cubics[-1].end, chain.start).cubics)
            cubics.extend(chain.cubics)
    return Chain(tuple(cubics))


def reshaped(edge: Edge, redraw: Callable[[Chain], Chain]) -> Edge:
    """Return the edge after its darts were closed, the one line redrawn, and the darts opened.

    Raises DoesNotFit when a dart no longer meets the redrawn line.
    """
    if not edge.darts:
        return replace(edge, parts=(redraw(edge.parts[0]),))
    line = closed(edge)
    return line.opened(redraw(line.chain))


def smoothed_at(chain: Chain, length: float, reach: float) -> Chain:
    """Return the line with a kink or step at a length drawn fair over `reach` mm on either side.

    The reach is cut short where the line ends.
    """
    low, high = max(length - reach, 0.0), min(length + reach, chain.length)
    before = [chain.between(0.0, low)] if low > SAME_POINT else []
    after = [chain.between(high, chain.length)] if high < chain.length - SAME_POINT else []
    bridge = smooth_join(
        chain.point_at(low),
        before[0].end_tangent if before else chain.start_tangent,
        chain.point_at(high),
        after[0].start_tangent if after else chain.end_tangent,
    )
    # Where the reach ends with the line, its last bit would not be that of the corner.
    return Chain.joining([*before, bridge, *after]).starting_at(chain.start).ending_at(chain.end)
