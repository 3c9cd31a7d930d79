"""A piece cut along two lines: what lies between them, and what lies beyond, laid together.

Of a sleeve that is the upper sleeve, which stays where it lies, and the under sleeve: the two
stretches beside the seam that the sleeve had, turned until that runs straight down, laid together
along it. What is gained or lost where that seam bows, both parts gain or lose at their lines, half
each: together they are as wide on each level as the whole was, and their lines as long as before.
"""

from dataclasses import dataclass, replace
from itertools import pairwise

from trueup.geometry.kept import kept
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, degrees_between, dot, turn_between, unit
from trueup.geometry.pieces.closed_line import smoothed_at
from trueup.geometry.pieces.cut import Cut, SecondLine
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import meeting, start_carried
from trueup.geometry.redrawing.sleeves.cap_ends import start_turned
from trueup.geometry.redrawing.trued_dart import Field, displaced
from trueup.geometry.tolerance import SAME_POINT

UNDERARM = "underarm"
"""The corner of the part beyond the lines at which its two stretches meet above."""

_RUNS_ON, _FAIR = 0.5, 40.0
"""Lines that turn by more than so many degrees are drawn fair, so far to either side, mm."""

_STEP = 0.1
"""How far to either side a slope is read, mm."""

Ring = tuple[Edge, ...]


@dataclass(frozen=True)
class Parting:
    """A whole as its two lines part it: one of `cut`, as it lies now or did before a change."""

    cut: Cut
    whole: Piece

    @property
    def front_line(self) -> SecondLine:
        """Return the line that comes first, which is the second of the cut."""
        assert self.cut.second is not None
        return self.cut.second

    @kept
    def seams(self) -> tuple[Edge, Edge]:
        """Return the edges along which the stretches are laid together, front and back."""
        return self.whole.neighbours(self.cut.begins.edge)

    @kept
    def motions(self) -> tuple[Motion, Motion]:
        """Return how the front and the back stretch come to lie in the part beyond the lines."""
        front, back = self.seams
        ways = front.start - front.end, back.end - back.start
        down = 1j if ways[0].imag > 0 else -1j
        turns = [down / unit(way) for way in ways]
        return Motion(turns[0]), Motion(turns[1], turns[0] * front.end - turns[1] * back.start)

    @kept
    def upper(self) -> tuple[Edge, Edge, Edge]:
        """Return the edge on which the lines begin: before, between and beyond them."""
        edge = self.whole.edge(self.cut.begins.edge)
        first, last = self.front_line.begins.dart, self.cut.begins.dart
        return _in_three(edge, (first, last), _corners(self.cut, edge))

    @kept
    def lower(self) -> tuple[Edge, Edge, Edge]:
        """Return the edge on which they end, likewise; its order is the other way round."""
        edge = self.whole.edge(self.cut.ends.edge)
        first, last = self.cut.ends.dart, self.front_line.ends.dart
        return _in_three(edge, (first, last), _corners(self.cut, edge)[::-1])

    @kept
    def beyond(self) -> tuple[Edge, Edge, Edge]:
        """Return the outline beyond the lines but for these: above, front and back, and below."""
        front, back = self.motions
        names = self.cut.beside
        top = front(self.seams[0].end)
        before = replace(self.upper[0], name=names[0], starts_at=UNDERARM)
        behind = replace(self.upper[2], name=names[1], ends_at=UNDERARM)
        before, behind = _running_on(
            meeting(moved(before, front), start=top), meeting(moved(behind, back), end=top)
        )
        below = _laid_end_to_end(moved(self.lower[2], front), moved(self.lower[0], back))
        return before, behind, below

    @property
    def between(self) -> tuple[Edge, Edge]:
        """Return the outline between the lines but for these: above and below."""
        return self.upper[1], self.lower[1]

    def straightened(self, point: Point, index: int) -> complex:
        """Return how far cloth beside a point goes along as a seam is laid straight, mm."""
        seam = self.seams[index]
        way = unit(seam.end - seam.start)
        along = dot(point - seam.start, way)
        if not 0 < along < abs(seam.end - seam.start):
            return 0j
        base = seam.start + along * way
        met = [place for part in seam.parts for place in part.meetings(base, way * 1j)]
        return base - min(met, key=lambda place: abs(place - base)) if met else 0j

    @property
    def is_straight(self) -> bool:
        """Return whether both seams run straight."""
        return not any(
            abs(((point - seam.start) / unit(seam.end - seam.start)).imag) > SAME_POINT
            for seam in self.seams
            for part in seam.parts
            for cubic in part.cubics
            for point in cubic
        )


def moved(edge: Edge, motion: Motion) -> Edge:
    """Return an edge after a rigid motion, darts and all."""
    parts = tuple(part.moved(motion) for part in edge.parts)
    darts = tuple(replace(dart, apex=motion(dart.apex)) for dart in edge.darts)
    return replace(edge, parts=parts, darts=darts)


def straightening(now: Parting, was: Parting | None, line: Chain, place: tuple[int, bool]) -> Chain:
    """Return a line of a part, where the whole has it, with its half of what a seam now bows more.

    Place is 0 in front, 1 behind, and whether it is that of the part beyond the lines; without a
    parting that `was`, all that the seam bows is meant.
    """
    index, beyond = place
    half = 0.5 if beyond else -0.5

    if now.is_straight and (was is None or was.is_straight):
        return line

    def at(length: float) -> complex:
        point = line.point_at(length)
        before = was.straightened(point, index) if was else 0j
        return half * (now.straightened(point, index) - before)

    def field(length: float) -> tuple[complex, complex]:
        low, high = max(length - _STEP, 0.0), min(length + _STEP, line.length)
        return at(length), (at(high) - at(low)) / (high - low)

    bow: Field = field
    return displaced(line, bow)


def ring_beyond(parting: Parting, front: Chain, back: Chain) -> Ring:
    """Return the outline of the part beyond the lines, given these from above to below."""
    before, behind, below = parting.beyond
    one, other = parting.front_line.line, parting.cut.line
    down = Edge(one, before.ends_at, below.starts_at, (front,))
    up = Edge(other, below.ends_at, behind.starts_at, (back.reversed(),))
    down = meeting(down, before.end, below.start)
    return before, down, below, meeting(up, below.end, behind.start), behind


def ring_between(parting: Parting, front: Chain, back: Chain) -> Ring:
    """Return the outline of the part between the lines, given these from above to below."""
    above, below = parting.between
    one, other = parting.front_line.line, parting.cut.line
    down = meeting(Edge(other, above.ends_at, below.starts_at, (back,)), above.end, below.start)
    up = Edge(one, below.ends_at, above.starts_at, (front.reversed(),))
    return above, down, below, meeting(up, below.end, above.start)


def _corners(cut: Cut, edge: Edge) -> tuple[str, str]:
    assert cut.second is not None
    return f"{cut.second.line}-{edge.name}", f"{cut.line}-{edge.name}"


def _in_three(
    edge: Edge, darts: tuple[str, str], corners: tuple[str, str]
) -> tuple[Edge, Edge, Edge]:
    """Return an edge before, between and beyond two darts of no intake, which are corners then."""
    at = [next(k for k, dart in enumerate(edge.darts) if dart.name == name) for name in darts]
    ends = [-1, *at, len(edge.darts)]
    names = (edge.starts_at, *corners, edge.ends_at)
    first, middle, last = (
        Edge(
            edge.name,
            names[k],
            names[k + 1],
            edge.parts[low + 1 : high + 1],
            _between(edge.darts, low, high),
            edge.shaped,
        )
        for k, (low, high) in enumerate(pairwise(ends))
    )
    return first, middle, last


def _between(darts: tuple[Dart, ...], low: int, high: int) -> tuple[Dart, ...]:
    return darts[low + 1 : high]


def _running_on(before: Edge, behind: Edge) -> tuple[Edge, Edge]:
    """Return two edges of which the second runs on smoothly as the first, each turned by half.

    Where the seam between them was shaped, the two do not, laid along the way between its ends.
    """
    ahead, arriving = before.parts[0].start_tangent, behind.parts[-1].end_tangent
    if degrees_between(arriving, ahead) < _RUNS_ON:
        return before, behind
    both = unit(ahead + arriving)
    first = start_turned(before.parts[0], turn_between(ahead, both), None)[0]
    last = start_turned(behind.parts[-1].reversed(), turn_between(arriving, both), None)[0]
    return (
        replace(before, parts=(first, *before.parts[1:])),
        replace(behind, parts=(*behind.parts[:-1], last.reversed())),
    )


def _laid_end_to_end(first: Edge, second: Edge) -> Edge:
    """Return two stretches of an edge as one; where they do not quite meet, the second is drawn."""
    if abs(second.start - first.end) > SAME_POINT:
        shift = Motion(shift=first.end - second.start)
        second = start_carried(second, shift, first.end)
    one, two = first.parts[-1], second.parts[0]
    joined = Chain.joining([one, two])
    if degrees_between(one.end_tangent, two.start_tangent) > _RUNS_ON:
        joined = smoothed_at(joined, one.length, min(_FAIR, one.length / 2, two.length / 2))
    return Edge(
        first.name,
        first.starts_at,
        second.ends_at,
        (*first.parts[:-1], joined, *second.parts[1:]),
        (*first.darts, *second.darts),
        first.shaped,
    )
