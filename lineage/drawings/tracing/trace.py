"""From a drawing to a draft: named lines become pieces, what has no name is listed, not guessed."""

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass

from trueup.geometry.cuts.sewing import relaid
from trueup.geometry.errors import GeometryError
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pleats.laid_open import require_openable
from trueup.geometry.said import said
from trueup.geometry.tolerance import SEAM, SHORTEST_LEFT
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.drawings.tracing.names import Name, name_of
from trueup.lineage.drawings.tracing.page import Drawn, read_page
from trueup.lineage.drawings.tracing.ring import piece_of
from trueup.lineage.drawings.tracing.told import redrawn
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import MOST_PIECES

MATES = 8
"""So many lines of equal length are told of each; more would tell a maker nothing."""

SMALLEST_CLOTH = 1.0
"""No piece is smaller, mm²: it could not be cut."""


@dataclass(frozen=True)
class Unnamed:
    """A line without a name: its id, its length (mm), its ends, and lines of equal length."""

    id: str
    length: float
    start: Point
    end: Point
    is_closed: bool
    mates: tuple[str, ...]


@dataclass(frozen=True)
class Traced:
    """What a drawing holds: the draft its named lines make, and the lines that have no name.

    `draft` is None where no line has a name, or where lines wait for theirs. `missing` says in
    words what no line can tell.
    """

    draft: Draft | None
    unnamed: tuple[Unnamed, ...]
    missing: tuple[str, ...]


def read_lines(
    content: bytes, names: Mapping[str, str], place: str
) -> tuple[dict[Name, Drawn], list[Drawn], str | None]:
    """Return a drawing's lines by name, those without one, and its own description of its pieces.

    `names` gives lines their names by their ids. Raises BadRecord.
    """
    page = read_page(content, place)
    known = {line.name for line in page.lines}
    for given, name in names.items():
        if given not in known:
            raise BadRecord(place, "there is no line of this id", field=given)
        if name_of(name) is None:
            raise BadRecord(place, f'"{name}" is not piece.edge or piece.dart.name', field=given)
    lines: dict[Name, Drawn] = {}
    unnamed = []
    for line in page.lines:
        found = name_of(names.get(line.name, line.name))
        if found is None:
            unnamed.append(line)
        elif found in lines:
            twice = names.get(line.name, line.name)
            raise BadRecord(place, "two lines have this name", field=twice)
        else:
            lines[found] = line
    return lines, unnamed, page.description


def traced(content: bytes, names: Mapping[str, str], place: str, *, others: bool = False) -> Traced:
    """Return what a drawing holds; `place` is what a message calls the file.

    Unless `others` may be left out, a line without a name leaves the draft for later: it may be
    the one that a piece lacks. Raises BadRecord for what is no drawing of pieces.
    """
    lines, unnamed, description = read_lines(content, names, place)
    everything = [*lines.values(), *unnamed]
    looks = _looks(unnamed, everything)
    if unnamed and not others:
        return Traced(None, looks, ())
    told = read_form(description, place) if description is not None else Draft(())
    by_piece: dict[str, dict[Name, Drawn]] = {}
    for piece in told.piece_names:
        by_piece[piece] = {}
    for name, line in lines.items():
        by_piece.setdefault(name.piece, {})[name] = line
    if len(by_piece) > MOST_PIECES:
        raise BadRecord(place, f"it has more than {MOST_PIECES} pieces")
    order = (*told.piece_names, *(each for each in by_piece if not told.has_piece(each)))
    try:
        pieces = tuple(_piece(each, by_piece[each], told, place) for each in order)
        draft = relaid(Draft(pieces, told.seams, told.joins, told.cuts)) if pieces else None
    except GeometryError as error:
        raise BadRecord(place, error.says) from None
    return Traced(draft, looks, _missing(draft, told))


def _piece(name: str, lines: Mapping[Name, Drawn], told: Draft, place: str) -> Piece:
    described = told.has_piece(name)
    piece = redrawn(told.piece(name), lines, place) if described else piece_of(name, lines, place)
    require_piece(piece, place)
    return piece


def require_piece(piece: Piece, place: str) -> None:
    """Refuse what no cloth could be cut by; raises BadRecord, GeometryError."""
    require_openable(piece)
    for edge in piece.edges:
        if edge.length < SHORTEST_LEFT:
            reason = said("only-long", length=edge.length)
            raise BadRecord(place, reason, field=f"{piece.name}.{edge.name}")
    if len(set(piece.outline_points)) < 3 or not piece.is_simple or piece.area < SMALLEST_CLOTH:
        why = "its outline crosses itself, or goes round no cloth"
        raise BadRecord(place, why, field=piece.name)


def _looks(unnamed: list[Drawn], lines: list[Drawn]) -> tuple[Unnamed, ...]:
    """Return what lines look like, each with some of the lines that are as long as it is."""
    lengths = sorted((line.length, line.name) for line in lines)
    looks = []
    for line in unnamed:
        low = bisect_left(lengths, (line.length - SEAM, ""))
        near = lengths[low : low + MATES]
        mates = tuple(name for mm, name in near if mm <= line.length + SEAM and name != line.name)
        start, end = line.runs[0].start, line.runs[-1].end
        looks.append(Unnamed(line.name, line.length, start, end, line.is_closed, mates))
    return tuple(looks)


def _missing(draft: Draft | None, told: Draft) -> tuple[str, ...]:
    if draft is None:
        return ()
    missing = []
    if not draft.seams:
        missing.append("no seams: nothing says which edges are sewn together")
    bare = [piece for piece in draft.pieces if not told.has_piece(piece.name)]
    for what, names in (
        ("levels (bust, waist, hip)", [p.name for p in bare if not p.levels]),
        ("grainline", [p.name for p in draft.pieces if not p.grainline]),
        ("fold", [p.name for p in bare if not p.fold]),
    ):
        if names:
            missing.append(f"no {what} in {', '.join(names)}")
    return tuple(missing)


def kept_draft(drawing: str, place: str) -> Draft:
    """Return the draft that a wardrobe's own drawing of a traced block holds.

    Raises BadRecord, also for a line without a name, for nothing else says what to make of it.
    """
    found = traced(drawing.encode("utf-8"), {}, place)
    if found.unnamed:
        raise BadRecord(place, "a line in it has no name", field=found.unnamed[0].id)
    if found.draft is None:
        raise BadRecord(place, "it holds no named line")
    return found.draft
