"""A pattern piece: a closed ring of named edges, with darts, notches, grainline and fold."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import chain, pairwise
from typing import Self

from shapely import Polygon

from trueup.geometry.errors import BrokenOutline, NoSuchName
from trueup.geometry.kept import hashed_once, kept
from trueup.geometry.lines.points import Point
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.pieces.dart import Dart, InnerDart, Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.cut_corner import CutCorner
from trueup.geometry.pieces.marks.label import Label
from trueup.geometry.pieces.marks.mark import InnerMark
from trueup.geometry.pieces.position import Position
from trueup.geometry.pieces.side import Side, sided, unsided
from trueup.geometry.said import said

_FAR = 1e5


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


class PleatStyle(StrEnum):
    """How a pleat is laid: one fold, or two that look away from each other or at each other."""

    KNIFE = "knife"
    BOX = "box"
    INVERTED = "inverted"


@dataclass(frozen=True)
class Pleat:
    """A pleat from a place on one edge straight to a place on another, `depth` mm deep.

    It is a mark, as a notch is: a piece is told of and worked on as it is sewn, its pleats laid, so
    that no line is longer for them; only its cloth is cut with them open (`geometry/pleats`). The
    fold of a knife pleat lies on its line and looks `towards` a corner of the first edge; the two
    of the others lie to both sides of it, or to one where the line is the fold of the piece.
    `stitched` says how far down from the first edge they are sewn.
    """

    name: str
    edge: str
    at: Position
    ends: str
    ends_at: Position
    depth: float
    style: PleatStyle = PleatStyle.KNIFE
    towards: str = ""
    stitched: float = 0.0


@dataclass(frozen=True)
class Vent:
    """A vent that opens an edge from a place on it down to its corner at the `hem`.

    Beyond the edge lies an extension, `width` mm wide, that is turned in or laps under; its upper
    end runs down by a `slope` on its way out, and its free side has an `allowance`. Like a pleat it
    is a mark: only the cloth is cut with it.
    """

    name: str
    edge: str
    at: Position
    hem: str
    width: float
    slope: float = 0.0
    allowance: float = 0.0


@hashed_once
@dataclass(frozen=True)
class Piece:
    """One piece of a draft: a ring of edges that share their corners exactly.

    Edges, darts, corners, levels and notches are found by name, never by an index. `allowances`
    says how much cloth (mm) is cut outside the seam line of an edge; an edge not in it has none.
    `worn` is the side of the body a piece is for that has another on the other side; None where
    both are alike. Its `pleats` are laid and its `vents` closed; how it is cut with them open says
    `pleats/laid_open.py`. `marks` lie inside it, its `label` says from what it is cut, `corners`
    how the allowances are cut at some of its corners (`marks/`). `free` are the edges of which a
    maker said that they are sewn to nothing.
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
    worn: Side | None = None
    pleats: tuple[Pleat, ...] = ()
    marks: tuple[InnerMark, ...] = ()
    label: Label | None = None
    corners: tuple[CutCorner, ...] = ()
    vents: tuple[Vent, ...] = ()
    free: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for before, after in pairwise((*self.edges, self.edges[0])):
            if before.end != after.start or before.ends_at != after.starts_at:
                edges = {"first": before.name, "second": after.name}
                raise BrokenOutline(said("edges-apart", piece=self.name, **edges))
        for names in (self.edge_names, self.dart_names):
            if len({*names}) < len(names):
                twice = {name for name in names if names.count(name) > 1}
                raise BrokenOutline(said("name-twice", name=min(twice), piece=self.name))

    @property
    def shared_name(self) -> str:
        """Return the name it has where both sides are alike: that of a `left-front` is `front`."""
        return unsided(self.name) if self.worn else self.name

    def for_side(self, side: Side | None) -> Self:
        """Return the piece as the one of a side of the body, or as the one for both."""
        return replace(self, name=sided(self.shared_name, side), worn=side)

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

    def with_dart(self, dart: Dart) -> Self:
        """Return the piece with a dart put in place of the one of that name; raises NoSuchName."""
        edge = self.edge_of_dart(dart.name)
        darts = tuple(dart if each.name == dart.name else each for each in edge.darts)
        return self.with_edges(replace(edge, darts=darts))

    def with_notches(self, *more: Notch) -> Self:
        """Return the piece with more notches; raises NoSuchName for one on no edge of it."""
        for notch in more:
            self.edge(notch.edge)
        return replace(self, notches=(*self.notches, *more))

    def with_marks(self, *more: InnerMark) -> Self:
        """Return the piece with more marks."""
        return replace(self, marks=(*self.marks, *more))

    def allowance(self, edge: str) -> float:
        """Return the seam or hem allowance of an edge, mm; a fold has none. Raises NoSuchName."""
        name = self.edge(edge).name
        return 0.0 if name == self.fold else dict(self.allowances).get(name, 0.0)

    @kept
    def area(self) -> float:
        """Return the area of cloth, mm², darts taken out; exact (Green's theorem)."""
        swept = sum(edge.swept_area for edge in self.edges)
        inner = sum(dart.diamond.area for dart in self.inner_darts)
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
            cloth = cloth.difference(dart.diamond)
        return cloth

    @kept
    def is_simple(self) -> bool:
        """Return whether the outline, darts cut out, nowhere crosses or touches itself."""
        return bool(self.outline_polygon.exterior.is_simple)

    def width_at(self, y: float) -> float:
        """Return the width of cloth on the horizontal line y mm down the page, darts skipped."""
        line = polyline((complex(-_FAR, y), complex(_FAR, y)))
        return float(self.cloth.intersection(line).length)


def by_other_names(pieces: Collection[Piece], called: Mapping[str, str]) -> Iterator[Piece]:
    """Yield those of some pieces that have two names, each by the one that it does not stand by."""
    other = {**called, **{name: own for own, name in called.items()}}
    taken = {piece.name for piece in pieces}
    for piece in pieces:
        if other.get(piece.name, piece.name) not in taken:
            yield replace(piece, name=other[piece.name])
