"""Where two drafts of one pattern differ, and by how much: edge by edge, dart by dart."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, is_dataclass

from msgspec import Struct

from trueup.geometry.calling.own_names import called_as
from trueup.geometry.comparing.distance import farthest
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.fingerprint import fingerprint, piece_fingerprint
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.sides.parting import parted_as
from trueup.geometry.tolerance import DRAWN_ALIKE, FINGERPRINT_GRID

TOO_SMALL = "something too small to measure"


@dataclass(frozen=True)
class EdgeDifference:
    """An edge (`piece.edge`) that is not the same in two drafts, lengths and distances in mm.

    `moved` is the largest distance of a point of either line from the other, where the edge lies in
    the draft: an edge that is only turned about has moved as well. None, like the sewn length,
    where only one draft has the edge.
    """

    edge: str
    moved: float | None
    before: float | None
    after: float | None


@dataclass(frozen=True)
class DartDifference:
    """A dart (`piece.dart`) that is not the same in two drafts: how far the farthest of its points
    moved, and its intake, mm; None where only one draft has it.
    """

    dart: str
    moved: float | None
    before: float | None
    after: float | None


@dataclass(frozen=True)
class Difference:
    """All in which two drafts differ; `others` says in words what has no length of its own."""

    edges: tuple[EdgeDifference, ...]
    darts: tuple[DartDifference, ...]
    others: tuple[str, ...]

    @property
    def is_none(self) -> bool:
        """Return whether the drafts are the same."""
        return not (self.edges or self.darts or self.others)

    @property
    def is_noise(self) -> bool:
        """Return whether no line and no dart moved by anything scissors could follow."""
        if any(each != TOO_SMALL for each in self.others):
            return False
        moves = [*(e.moved for e in self.edges), *(d.moved for d in self.darts)]
        return all(move is not None and move < DRAWN_ALIKE for move in moves)

    @property
    def largest(self) -> EdgeDifference | None:
        """Return the edge that moved farthest, None where none did."""
        return max(self.edges, key=lambda edge: edge.moved or 0.0, default=None)


def difference(before: Draft, after: Draft) -> Difference:
    """Return in what two drafts differ, coordinates to `tolerance.FINGERPRINT_GRID`."""
    renamed = before.called != after.called
    before = called_as(before, after)
    after = parted_as(after, before)
    before = parted_as(before, after)
    names = tuple(dict.fromkeys((*before.piece_names, *after.piece_names)))
    edges: list[EdgeDifference] = []
    darts: list[DartDifference] = []
    others: list[str] = []
    for name in names:
        old = before.piece(name) if before.has_piece(name) else None
        new = after.piece(name) if after.has_piece(name) else None
        if old is new:
            continue
        edges += _edges(name, old, new)
        darts += _darts(name, old, new)
        if old and new and piece_fingerprint(old) != piece_fingerprint(new):
            others += _marks(old, new)
    if not _alike(_by_name(before.seams), _by_name(after.seams)):
        others.append("the seams or the ease they allow")
    if not _alike(_by_name(before.joins), _by_name(after.joins)):
        others.append("where lines should run on smoothly")
    if renamed:
        others.append("what pieces are called")
    if not (edges or darts or others) and fingerprint(before) != fingerprint(after):
        others.append(TOO_SMALL)
    return Difference(tuple(edges), tuple(darts), tuple(others))


def dart_differences(before: Draft, after: Draft) -> tuple[DartDifference, ...]:
    """Return the darts of two drafts that are not alike, to `tolerance.FINGERPRINT_GRID`."""
    found: list[DartDifference] = []
    for name in dict.fromkeys((*before.piece_names, *after.piece_names)):
        old = before.piece(name) if before.has_piece(name) else None
        new = after.piece(name) if after.has_piece(name) else None
        if old is not new:
            found += _darts(name, old, new)
    return tuple(found)


def _by_name(things: tuple[object, ...]) -> list[object]:
    return sorted(things, key=lambda thing: str(getattr(thing, "name", "")))


def _edges(name: str, old: Piece | None, new: Piece | None) -> Iterator[EdgeDifference]:
    olds = {edge.name: edge for edge in old.edges} if old else {}
    news = {edge.name: edge for edge in new.edges} if new else {}
    for edge in dict.fromkeys((*olds, *news)):
        one, other = olds.get(edge), news.get(edge)
        if one and other:
            if not same_line(one, other):
                yield EdgeDifference(
                    f"{name}.{edge}", farthest(one, other).distance, one.length, other.length
                )
        else:
            lengths = (one.length if one else None, other.length if other else None)
            yield EdgeDifference(f"{name}.{edge}", None, *lengths)


def same_line(one: Edge, other: Edge) -> bool:
    """Return whether two edges are drawn alike, to `tolerance.FINGERPRINT_GRID`."""
    return one.parts == other.parts or _alike(
        [part.cubics for part in one.parts], [part.cubics for part in other.parts]
    )


def _near(one: Point, other: Point) -> bool:
    return abs(one - other) <= FINGERPRINT_GRID


def _darts(name: str, old: Piece | None, new: Piece | None) -> Iterator[DartDifference]:
    olds, news = _dart_points(old), _dart_points(new)
    for dart in dict.fromkeys((*olds, *news)):
        one, other = olds.get(dart), news.get(dart)
        if one is None or other is None:
            intakes = (_intake(one), _intake(other))
            yield DartDifference(f"{name}.{dart}", None, *intakes)
        elif len(one) != len(other) or not all(map(_near, one, other)):
            moved = max(abs(p - q) for p, q in zip(one, other, strict=False))
            yield DartDifference(f"{name}.{dart}", moved, _intake(one), _intake(other))


def _dart_points(piece: Piece | None) -> dict[str, tuple[Point, ...]]:
    """Return for each dart its two mouth points, then its apex and tip, or its two tips."""
    if piece is None:
        return {}
    found = {
        mouth.dart.name: (mouth.first, mouth.second, mouth.dart.apex, mouth.tip)
        for edge in piece.edges
        for mouth in edge.mouths
    }
    inner = {d.name: (d.left, d.right, d.upper, d.lower) for d in piece.inner_darts}
    return {**found, **inner}


def _intake(points: tuple[Point, ...] | None) -> float | None:
    return None if points is None else abs(points[1] - points[0])


_MARKS: dict[str, Callable[[Piece], object]] = {
    "the fold": lambda piece: piece.fold,
    "the notches": lambda piece: _by_name(piece.notches),
    "the grainline": lambda piece: piece.grainline,
    "the levels": lambda piece: _by_name(piece.levels),
    "the allowances": lambda piece: sorted(piece.allowances),
    "the vents": lambda piece: _by_name(piece.vents),
    "the pleats": lambda piece: _by_name(piece.pleats),
    "the marks": lambda piece: _by_name(piece.marks),
    "how corners are cut": lambda piece: sorted(piece.corners, key=lambda each: each.corner),
    "the label": lambda piece: piece.label,
    "which edges are free": lambda piece: sorted(piece.free),
    "which darts were turned": lambda piece: [
        (dart.name, dart.turned) for edge in piece.edges for dart in edge.darts
    ],
}


def _marks(old: Piece, new: Piece) -> Iterator[str]:
    for what, read in _MARKS.items():
        if not _alike(read(old), read(new)):
            yield f"{what} of {old.name}"


def _alike(one: object, other: object) -> bool:
    """Return whether two values are the same, the numbers in them to the grid."""
    if isinstance(one, float | complex) and isinstance(other, float | complex):
        return abs(one - other) <= FINGERPRINT_GRID
    if isinstance(one, list | tuple) and isinstance(other, list | tuple):
        return len(one) == len(other) and all(map(_alike, one, other))
    if isinstance(one, Struct) and type(one) is type(other):
        return all(_alike(getattr(one, f), getattr(other, f)) for f in one.__struct_fields__)
    if is_dataclass(one) and type(one) is type(other):
        return all(_alike(getattr(one, f.name), getattr(other, f.name)) for f in fields(one))
    return one == other
