"""A pattern piece: a closed ring of named edges, with darts, notches, grainline and fold."""

from dataclasses import dataclass, replace
from itertools import chain, pairwise
from typing import Self

from shapely import Polygon

from trueup.geometry.errors import BrokenOutline, NoSuchName
from trueup.geometry.kept import kept
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, turn_between, unit
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.pieces.position import Position

_FAR = 1e5


@dataclass(frozen=True)
class Dart:
    """A dart that opens on an edge; its mouth is the gap between two parts of that edge.

    `apex` is the pivot, the point of the body it aims at. The tip it is sewn to may stop short of
    it, `setback` mm towards the mouth; the dart still closes and turns about its apex.
    `turned` says that it was brought here from elsewhere: what lies beyond is turned by its angle.
    """

    name: str
    apex: Point
    setback: float = 0.0
    turned: bool = False


@dataclass(frozen=True)
class InnerDart:
    """A double-pointed dart inside a piece: two tips, and the two mouth points between them."""

    name: str
    upper: Point
    lower: Point
    left: Point
    right: Point

    @property
    def intake(self) -> float:
        """Return the width taken in at its widest, mm."""
        return abs(self.right - self.left)


@dataclass(frozen=True)
class Mouth:
    """Where a dart opens on its edge: the two mouth points in ring order, and the apex."""

    dart: Dart
    first: Point
    second: Point

    @property
    def intake(self) -> float:
        """Return the straight distance between the mouth points, mm."""
        return abs(self.second - self.first)

    @property
    def angle(self) -> float:
        """Return the signed turn in radians about the apex that closes the dart."""
        return turn_between(self.second - self.dart.apex, self.first - self.dart.apex)

    @property
    def tip(self) -> Point:
        """Return the point the dart is sewn to, on its centre line."""
        centre = (self.first + self.second) / 2 - self.dart.apex
        if self.dart.setback == 0 or centre == 0:
            return self.dart.apex
        return self.dart.apex + unit(centre) * self.dart.setback

    @property
    def legs(self) -> tuple[float, float]:
        """Return the lengths of the two legs, from mouth to tip, mm."""
        return abs(self.first - self.tip), abs(self.second - self.tip)


@dataclass(frozen=True)
class Edge:
    """A named edge from one named corner to the next, in ring order.

    A dart that opens on the edge leaves it in two parts; the edge stays one, and its length skips
    the dart. There is always one part more than there are darts.
    """

    name: str
    starts_at: str
    ends_at: str
    parts: tuple[Chain, ...]
    darts: tuple[Dart, ...] = ()

    def __post_init__(self) -> None:
        if len(self.parts) != len(self.darts) + 1:
            raise BrokenOutline(
                f"the edge {self.name} has {len(self.parts)} parts and {len(self.darts)} darts"
            )

    @property
    def start(self) -> Point:
        """Return the corner point where the edge starts."""
        return self.parts[0].start

    @property
    def end(self) -> Point:
        """Return the corner point where the edge ends."""
        return self.parts[-1].end

    @kept
    def length(self) -> float:
        """Return the sewn length, mm: the sum of the parts, darts skipped."""
        return sum(part.length for part in self.parts)

    @kept
    def mouths(self) -> tuple[Mouth, ...]:
        """Return the mouths of its darts, in ring order."""
        return tuple(
            Mouth(dart, before.end, after.start)
            for dart, (before, after) in zip(self.darts, pairwise(self.parts), strict=True)
        )

    def point_at(self, length: float) -> Point:
        """Return the point so many sewn mm from the start; at a mouth, its first point."""
        return self.place_at(length)[0]

    def place_at(self, length: float) -> tuple[Point, complex]:
        """Return the point so many sewn mm from the start, and the direction of travel there."""
        part = self.parts[0]
        for part in self.parts:
            if length <= part.length + 1e-9:
                break
            length -= part.length
        return part.point_at(length), part.tangent_at(length)

    @kept
    def outline(self) -> Chain:
        """Return the edge with its darts cut out: leg in to the tip and leg out again."""
        runs = [self.parts[0]]
        for mouth, part in zip(self.mouths, self.parts[1:], strict=True):
            runs += [Chain.line(mouth.first, mouth.tip, mouth.second), part]
        return Chain(tuple(c for run in runs for c in run.cubics))

    @kept
    def swept_area(self) -> float:
        """Return ½∮(x dy − y dx) along the edge, darts cut out, mm²."""
        return self.outline.swept_area

    @kept
    def outline_points(self) -> tuple[Point, ...]:
        """Return the flattened outline of the edge, darts cut out, without its first point."""
        return tuple(self.outline.flattened()[1:])


@dataclass(frozen=True)
class Notch:
    """A mark on an edge for matching, placed by sewn length or share from a named corner."""

    name: str
    edge: str
    at: Position


@dataclass(frozen=True)
class Grainline:
    """The line that lies along the lengthwise threads of the cloth."""

    start: Point
    end: Point


@dataclass(frozen=True)
class Level:
    """A horizontal level of the body on the piece (chest, bust, waist, hip).

    It lies at `y` mm down the page, or runs along an edge where the piece ends there.
    """

    name: str
    y: float
    along: str | None = None


@dataclass(frozen=True)
class Piece:
    """One piece of a draft: a ring of edges that share their corners exactly.

    Edges, darts, corners, levels and notches are found by name, never by an index. `allowances`
    says how much cloth (mm) is cut outside the seam line of an edge; an edge not in it has none.
    Raises BrokenOutline when the ring does not close or a name stands twice.
    """

    name: str
    edges: tuple[Edge, ...]
    inner_darts: tuple[InnerDart, ...] = ()
    notches: tuple[Notch, ...] = ()
    grainline: Grainline | None = None
    fold: str | None = None
    levels: tuple[Level, ...] = ()
    allowances: tuple[tuple[str, float], ...] = ()

    def __post_init__(self) -> None:
        for before, after in pairwise((*self.edges, self.edges[0])):
            if before.end != after.start or before.ends_at != after.starts_at:
                raise BrokenOutline(
                    f"the edges {before.name} and {after.name} of {self.name} do not meet"
                )
        for names in (self.edge_names, self.dart_names):
            if len({*names}) < len(names):
                twice = {name for name in names if names.count(name) > 1}
                raise BrokenOutline(f"the name {min(twice)} stands twice in {self.name}")

    @property
    def edge_names(self) -> tuple[str, ...]:
        """Return the names of the edges in ring order."""
        return tuple(edge.name for edge in self.edges)

    @property
    def dart_names(self) -> tuple[str, ...]:
        """Return the names of all darts, edge darts first."""
        on_edges = (dart.name for edge in self.edges for dart in edge.darts)
        return (*on_edges, *(dart.name for dart in self.inner_darts))

    def edge(self, name: str) -> Edge:
        """Return an edge by name; raises NoSuchName with the edges there are."""
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise NoSuchName("edge", name, self.name, self.edge_names)

    def neighbours(self, name: str) -> tuple[Edge, Edge]:
        """Return the edges before and after an edge in the ring."""
        index = self.edges.index(self.edge(name))
        return self.edges[index - 1], self.edges[(index + 1) % len(self.edges)]

    def corner(self, name: str) -> Point:
        """Return a corner point by name; raises NoSuchName with the corners there are."""
        for edge in self.edges:
            if edge.starts_at == name:
                return edge.start
        raise NoSuchName("corner", name, self.name, tuple(e.starts_at for e in self.edges))

    def has_level(self, name: str) -> bool:
        """Return whether the piece knows a level of this name."""
        return any(level.name == name for level in self.levels)

    def level(self, name: str) -> Level:
        """Return a level by name; raises NoSuchName with the levels there are."""
        for level in self.levels:
            if level.name == name:
                return level
        raise NoSuchName("level", name, self.name, tuple(level.name for level in self.levels))

    def edge_of_dart(self, name: str) -> Edge:
        """Return the edge a dart opens on; raises NoSuchName with the darts that open on one."""
        for edge in self.edges:
            if any(dart.name == name for dart in edge.darts):
                return edge
        known = tuple(dart.name for edge in self.edges for dart in edge.darts)
        raise NoSuchName("dart", name, self.name, known)

    def mouth(self, dart: str) -> Mouth:
        """Return the mouth of a dart on an edge; raises NoSuchName with the darts there are."""
        return next(m for m in self.edge_of_dart(dart).mouths if m.dart.name == dart)

    def with_edges(self, *changed: Edge) -> Self:
        """Return the piece with edges of the same names put in place."""
        by_name = {edge.name: edge for edge in changed}
        for name in by_name:
            self.edge(name)
        return replace(self, edges=tuple(by_name.get(e.name, e) for e in self.edges))

    def allowance(self, edge: str) -> float:
        """Return the seam or hem allowance of an edge, mm; a fold has none. Raises NoSuchName."""
        name = self.edge(edge).name
        return 0.0 if name == self.fold else dict(self.allowances).get(name, 0.0)

    @kept
    def area(self) -> float:
        """Return the area of cloth, mm², darts taken out; exact (Green's theorem)."""
        swept = sum(edge.swept_area for edge in self.edges)
        inner = sum(_diamond(dart).area for dart in self.inner_darts)
        return abs(swept) - float(inner)

    @kept
    def inward(self) -> complex:
        """Return the factor that turns a direction of travel into the normal pointing inwards."""
        swept = sum(edge.swept_area for edge in self.edges)
        return 1j if swept > 0 else -1j

    @kept
    def outline_points(self) -> tuple[Point, ...]:
        """Return the flattened outline with its darts cut out, without the closing point."""
        return tuple(chain.from_iterable(edge.outline_points for edge in self.edges))

    @kept
    def outline_polygon(self) -> Polygon:
        """Return the outline, darts cut out, as a polygon; it may cross itself."""
        return polygon(self.outline_points)

    @kept
    def cloth(self) -> Polygon:
        """Return the cloth of the piece as a polygon, darts cut out."""
        cloth = self.outline_polygon
        if not cloth.is_valid:
            cloth = cloth.buffer(0)
        for dart in self.inner_darts:
            cloth = cloth.difference(_diamond(dart))
        return cloth

    @kept
    def is_simple(self) -> bool:
        """Return whether the outline, darts cut out, nowhere crosses or touches itself."""
        return bool(self.outline_polygon.exterior.is_simple)

    def width_at(self, y: float) -> float:
        """Return the width of cloth on the horizontal line y mm down the page, darts skipped."""
        line = polyline((complex(-_FAR, y), complex(_FAR, y)))
        return float(self.cloth.intersection(line).length)


def _diamond(dart: InnerDart) -> Polygon:
    return polygon((dart.upper, dart.right, dart.lower, dart.left))
