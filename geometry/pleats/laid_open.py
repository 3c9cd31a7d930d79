"""A piece as its cloth is cut: pleats and vents open, with the lines along which it is folded."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace
from functools import lru_cache

from msgspec import structs

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, dot
from trueup.geometry.pieces.beyond.marks import marks_beyond, only_drawable
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece, PleatStyle, Vent
from trueup.geometry.pieces.position import Position
from trueup.geometry.pleats.creases import Crease, CreaseKind, LaidOpen, creases_of
from trueup.geometry.pleats.folding import (
    AFTER,
    BEFORE,
    PleatFold,
    folds,
    part_at,
    require_room,
    reversed_edge,
)
from trueup.geometry.pleats.vents import vent_cut
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT

_ARROW_AT = 0.2
_CENTRE = "centre"

_Line = tuple[Point, Point]


@lru_cache(maxsize=512)
def laid_open(piece: Piece) -> Piece:
    """Return a piece as it is cut; one without pleats and vents is the same object.

    The strip that holds the fold, else the centre, else the grainline stays where it lies. Raises
    DoesNotFit where a pleat cannot be laid open, NoSuchName or BadPosition where its place is gone.
    Marks beyond the ends of their lines are left out.
    """
    piece = only_drawable(piece)
    opened = _Opening.of(piece).opened() if piece.pleats else piece
    for vent in piece.vents:
        opened = _with_vent(opened, vent)
    return opened


def _with_vent(piece: Piece, vent: Vent) -> Piece:
    """Return a piece that is laid open with the extension of a vent, and the fold beside it."""
    found = vent_cut(piece, vent)
    cut = found.cut()
    same = {each.name: getattr(cut, each.name) for each in fields(Piece)}
    fold = Crease(vent.name, CreaseKind.FOLD, *found.fold)
    return LaidOpen(**same, creases=(*creases_of(piece), fold))


def require_openable(piece: Piece) -> None:
    """Raise DoesNotFit where a pleat or a vent of a piece has no room on it, as it is cut."""
    require_room(piece)
    if piece.vents and not laid_open(piece).is_simple:
        vent = piece.vents[0]
        reason = said("vent-crosses", vent=vent.name)
        raise DoesNotFit(reason, said("another-place"), edge=vent.edge)


def as_cut(draft: Draft) -> Draft:
    """Return a draft with every piece as it is cut; the same object where that is as it is sewn."""
    changed = [
        piece for piece in draft.pieces if piece.pleats or piece.vents or marks_beyond(piece)
    ]
    return draft.with_pieces(*map(laid_open, changed)) if changed else draft


@dataclass(frozen=True)
class _Opening:
    """A piece, its pleats in order, and how far each of the strips between them is moved."""

    piece: Piece
    folds: tuple[PleatFold, ...]
    shifts: tuple[complex, ...]

    @classmethod
    def of(cls, piece: Piece) -> "_Opening":
        found = folds(piece)
        shifts = [0j]
        for fold in found:
            shifts.append(shifts[-1] + fold.take_up * fold.across)
        opening = cls(piece, found, tuple(shifts))
        held = shifts[opening.held]
        return cls(piece, found, tuple(shift - held for shift in shifts))

    @property
    def upper(self) -> Edge:
        return self.piece.edge(self.folds[0].pleat.edge)

    @property
    def lower(self) -> Edge:
        return self.piece.edge(self.folds[0].pleat.ends)

    @property
    def held(self) -> int:
        """Return the strip that stays on the table."""
        names = self.piece.edge_names
        for held in (self.piece.fold, _CENTRE):
            if held in names and held not in (self.upper.name, self.lower.name):
                return self._strip_of_edge(held)
        grain = self.piece.grainline
        return self._strip_at((grain.start + grain.end) / 2) if grain else 0

    def _strip_of_edge(self, name: str) -> int:
        """Return the strip of an edge that no pleat opens: the last or the first."""
        names = self.piece.edge_names
        first = names.index(self.upper.name)
        in_order = (*names[first + 1 :], *names[:first])
        after = in_order.index(name) < in_order.index(self.lower.name)
        return len(self.folds) if after else 0

    def _strip_at(self, point: Point) -> int:
        return sum(dot(point - fold.start, fold.across) > 0 for fold in self.folds)

    def opened(self) -> LaidOpen:
        """Return the piece with every pleat laid open."""
        changed = {
            "edges": _meeting(tuple(map(self._edge, self.piece.edges))),
            "inner_darts": tuple(map(self._inner, self.piece.inner_darts)),
            "notches": tuple(map(self._notch, self.piece.notches)),
            "marks": tuple(map(self._mark, self.piece.marks)),
            "grainline": self._grainline(),
            "pleats": (),
            "vents": (),
        }
        same = {each.name: getattr(self.piece, each.name) for each in fields(Piece)}
        return LaidOpen(**{**same, **changed}, creases=tuple(self._creases()))

    # --- edges ------------------------------------------------------------------------------------

    def _stations(self, edge: Edge) -> list[float] | None:
        """Return where the pleats lie along an edge, in their order; None where they do not."""
        if edge.name == self.upper.name:
            return [fold.station for fold in self.folds]
        return [f.ends_station for f in self.folds] if edge.name == self.lower.name else None

    def _edge(self, edge: Edge) -> Edge:
        stations = self._stations(edge)
        if stations is None:
            shift = self.shifts[self._strip_of_edge(edge.name)]
            darts = tuple(replace(dart, apex=dart.apex + shift) for dart in edge.darts)
            parts = tuple(part.moved(Motion(shift=shift)) for part in edge.parts)
            return replace(edge, parts=parts, darts=darts) if shift else edge
        if edge.name == self.upper.name:
            return self._with_pleats(edge, stations)
        return reversed_edge(self._with_pleats(reversed_edge(edge), stations))

    def _with_pleats(self, edge: Edge, stations: Sequence[float]) -> Edge:
        """Return an edge, travelled as the pleats follow one another, with their rims let in."""
        parts, darts = [], []
        strip, done = 0, 0.0
        for index, part in enumerate(edge.parts):
            runs, low = [], 0.0
            is_last = index == len(edge.parts) - 1
            while strip < len(stations) and (is_last or stations[strip] < done + part.length):
                at = min(max(stations[strip] - done, 0.0), part.length)
                moved = Motion(shift=self.shifts[strip])
                runs += [run.moved(moved) for run in _between(part, low, at)]
                runs += [run.moved(moved) for run in self.folds[strip].let_in(part, at)]
                strip, low = strip + 1, at
            rest = Motion(shift=self.shifts[strip])
            runs += [run.moved(rest) for run in _between(part, low, part.length)]
            parts.append(Chain.joining(runs))
            done += part.length
            if index < len(edge.darts):
                dart = edge.darts[index]
                darts.append(replace(dart, apex=dart.apex + self.shifts[strip]))
        return replace(edge, parts=tuple(parts), darts=tuple(darts))

    # --- what lies on it --------------------------------------------------------------------------

    def _inner(self, dart: InnerDart) -> InnerDart:
        shift = self.shifts[self._strip_at((dart.left + dart.right) / 2)]
        points = (dart.upper, dart.lower, dart.left, dart.right)
        return InnerDart(dart.name, *(point + shift for point in points))

    def _notch(self, notch: Notch) -> Notch:
        return replace(notch, at=self._as_opened(notch.edge, notch.at))

    def _mark(self, mark: InnerMark) -> InnerMark:
        if not isinstance(mark.place, OnEdge):
            return mark
        at = self._as_opened(mark.place.edge, mark.place.at)
        return replace(mark, place=structs.replace(mark.place, at=at))

    def _as_opened(self, name: str, at: Position) -> Position:
        """Return a position on an edge as it is on the edge laid open."""
        edge = self.piece.edge(name)
        stations = self._stations(edge)
        if stations is None:
            return at
        is_upper = edge.name == self.upper.name
        along = at.along(edge)
        ordered = along if is_upper else edge.length - along
        line = edge if is_upper else reversed_edge(edge)
        taken = sum(
            self._rim_length(line, fold, station)
            for fold, station in zip(self.folds, stations, strict=True)
            if station < ordered - SAME_POINT
        )
        if (at.corner == edge.starts_at) == is_upper:
            return Position(at.corner, distance=ordered + taken)
        whole = sum(
            self._rim_length(line, fold, station)
            for fold, station in zip(self.folds, stations, strict=True)
        )
        return Position(at.corner, distance=edge.length + whole - ordered - taken)

    def _rim_length(self, edge: Edge, fold: PleatFold, station: float) -> float:
        part, at = part_at(edge, station)
        return sum(run.length for run in fold.let_in(part, at))

    def _grainline(self) -> Grainline | None:
        grain = self.piece.grainline
        if grain is None:
            return None
        shift = self.shifts[self._strip_at((grain.start + grain.end) / 2)]
        return Grainline(grain.start + shift, grain.end + shift) if shift else grain

    # --- the lines along which it is folded -------------------------------------------------------

    def _creases(self) -> Iterator[Crease]:
        for fold, shift in zip(self.folds, self.shifts, strict=False):
            for folded, laid in self._folded(fold):
                for line, what in ((folded, CreaseKind.FOLD), (laid, CreaseKind.PLACEMENT)):
                    start, end = (point + shift for point in line)
                    yield Crease(fold.pleat.name, what, start, end)
                    if fold.pleat.stitched > 0:
                        down = min(fold.pleat.stitched / abs(end - start), 1.0)
                        sewn = start + down * (end - start)
                        yield Crease(fold.pleat.name, CreaseKind.STITCHED, start, sewn)
                tail, tip = (a + _ARROW_AT * (b - a) + shift for a, b in (folded, laid))
                yield Crease(fold.pleat.name, CreaseKind.ARROW, tail, tip)

    def _folded(self, fold: PleatFold) -> Iterator[tuple[_Line, _Line]]:
        """Yield each fold that shows and the line it is laid on, from the first edge to the other.

        Both lie as the cloth of the pleat does that begins at its line.
        """
        depth, style = fold.pleat.depth, fold.pleat.style
        step = 2 * depth * fold.across
        line = (fold.start, fold.end)
        if style is PleatStyle.BOX:
            for side in fold.sides:
                beside = self._beside(fold, side * depth)
                if side == BEFORE:
                    start, end = map(fold.turned_over, beside)
                    yield (start, end), beside
                else:
                    most = len(fold.sides)
                    yield _moved(beside, step * (most - 1)), _moved(beside, step * most)
        elif fold.sides == (BEFORE,):
            yield line, _moved(line, step)
        elif fold.sides == (AFTER,):
            yield _moved(line, step), line
        else:
            yield line, _moved(line, step)
            yield _moved(line, 2 * step), _moved(line, step)

    def _beside(self, fold: PleatFold, offset: float) -> _Line:
        """Return the line beside that of a pleat, from rim to rim."""
        rims = ((self.upper, fold.station), (reversed_edge(self.lower), fold.ends_station))
        start, end = (
            part.point_at(fold.met(part, at, offset))
            for part, at in (part_at(edge, station) for edge, station in rims)
        )
        return start, end


def _moved(line: _Line, by: complex) -> _Line:
    return line[0] + by, line[1] + by


def _between(line: Chain, low: float, high: float) -> Iterator[Chain]:
    """Yield what there is of a line between two lengths, if anything is."""
    if high - low > SAME_POINT:
        yield line.between(low, high)


def _meeting(edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
    """Return edges in ring order with their ends put exactly on each other; for noise only."""
    met = []
    for edge, following in zip(edges, (*edges[1:], edges[0]), strict=True):
        last = edge.parts[-1].ending_at(following.start)
        same = last is edge.parts[-1]
        met.append(edge if same else replace(edge, parts=(*edge.parts[:-1], last)))
    return tuple(met)
