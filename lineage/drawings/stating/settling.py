"""Make a draft of what a maker states of a drawing: no line is taken that is not named."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from trueup.geometry.errors import GeometryError
from trueup.geometry.following.sewn_line import runs_of
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import unit
from trueup.geometry.marking.grain import grain_along
from trueup.geometry.marking.level_places import level_at
from trueup.geometry.measuring.unstated import unsewn_lines, unsewn_pieces
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.draft import EVEN, Draft, Join, Run, Seam
from trueup.geometry.pieces.piece import Grainline, Level, Piece
from trueup.lineage.drawings.seen.found import Found, FoundPiece, Inner, Looks, Notched, OutlineLine
from trueup.lineage.drawings.stating.marks import marks_of
from trueup.lineage.drawings.stating.stated import Stated, StatedJoin, StatedPiece, StatedSeam
from trueup.lineage.drawings.tracing.consistency import require_consistent
from trueup.lineage.drawings.tracing.names import Name, What
from trueup.lineage.drawings.tracing.page import Drawn
from trueup.lineage.drawings.tracing.ring import piece_of
from trueup.lineage.drawings.tracing.trace import require_piece
from trueup.lineage.errors import BadRecord

Line = OutlineLine | Notched | Inner


@dataclass(frozen=True)
class Settled:
    """The draft that was stated, and in words what nothing states of it."""

    draft: Draft
    missing: tuple[str, ...]


def settled(found: Found, stated: Stated, place: str) -> Settled:
    """Return the draft of a drawing as stated; `place` is what a message calls it.

    Raises BadRecord for a line that is not there, stands in two places or is left without a name.
    """
    owners = {line.number: piece for piece in found.pieces for line in _lines(piece)}
    _require_once(stated, owners, place)
    pieces = tuple(_piece(each, owners, place) for each in stated.pieces)
    draft = Draft(pieces)
    try:
        draft = replace(draft, joins=tuple(_join(draft, join, place) for join in stated.joins))
        seams = tuple(_seam(draft, seam, place) for seam in stated.seams)
        draft = replace(draft, seams=seams)
        require_consistent(draft, place)
    except GeometryError as error:
        raise BadRecord(place, error.says) from None
    return Settled(draft, _missing(draft, found, stated))


def _lines(piece: FoundPiece) -> tuple[Line, ...]:
    return (*piece.ring, *piece.inner)


def _require_once(stated: Stated, owners: dict[int, FoundPiece], place: str) -> None:
    given: dict[int, str] = {}
    for piece in stated.pieces:
        named = [(edge, line) for edge, lines in piece.edges.items() for line in lines]
        named += [*piece.darts.items(), *piece.notches.items()]
        named += [*piece.holes.items(), *piece.lines.items()]
        for word, line in named:
            name = f"{piece.name}.{word}"
            if line not in owners:
                raise BadRecord(place, f"there is no line {line} in it", field=name)
            if line in given:
                reason = f"line {line} is named {given[line]} as well"
                raise BadRecord(place, reason, field=name)
            given[line] = name


def _piece(stated: StatedPiece, owners: dict[int, FoundPiece], place: str) -> Piece:
    numbers = [line for lines in stated.edges.values() for line in lines]
    if not numbers:
        raise BadRecord(place, "no line is said to be an edge of it", field=stated.name)
    found = owners[numbers[0]]
    for number in numbers:
        if owners[number] is not found:
            reason = f"lines {numbers[0]} and {number} are not of one outline"
            raise BadRecord(place, reason, field=stated.name)
    lines = {line.number: line for line in _lines(found)}
    unnamed = [
        line.number
        for line in found.ring
        if line.number not in numbers and line.number not in stated.darts.values()
    ]
    if unnamed:
        told = ", ".join(map(str, unnamed))
        raise BadRecord(place, f"of its outline, nothing says what {told} is", field=stated.name)
    try:
        piece = piece_of(stated.name, _named(stated, found, lines, place), place)
        piece = _with_setbacks(piece, stated, place)
        piece = replace(
            piece,
            grainline=_grain(piece, stated, lines, place),
            fold=piece.edge(stated.fold).name if stated.fold else None,
            free=tuple(piece.edge(edge).name for edge in dict.fromkeys(stated.free)),
        )
        piece = replace(piece, levels=_levels(piece, stated, lines, place))
        piece = replace(piece, marks=marks_of(piece, stated, lines, place))
        require_piece(piece, place)
    except GeometryError as error:
        raise BadRecord(place, error.says, field=stated.name) from None
    return piece


def _named(
    stated: StatedPiece, found: FoundPiece, lines: dict[int, Line], place: str
) -> dict[Name, Drawn]:
    """Return the lines of a piece by name; those of an edge without a dart between are one."""
    edge_of = {line: edge for edge, numbers in stated.edges.items() for line in numbers}
    dart_of = {line: dart for dart, line in stated.darts.items()}
    named: dict[Name, Drawn] = {}
    parts: dict[str, int] = {}
    ring = list(found.ring)
    starts = [k for k, line in enumerate(ring) if _begins(ring, k, edge_of)]
    first = starts[0] if starts else 0
    run: list[Chain] = []
    edge = ""
    for line in (*ring[first:], *ring[:first], None):
        # A V that is no dart, or not named as one yet, is some of the edge.
        here = edge_of.get(line.number, "") if line else ""
        if run and here != edge:
            parts[edge] = parts.get(edge, 0) + 1
            name = Name(stated.name, What.EDGE, edge, parts[edge])
            named[name] = Drawn(str(name), (Chain.joining(run),), False)
            run = []
        edge = here
        if line and here:
            run.append(line.chain)
        elif isinstance(line, Notched):
            dart = dart_of[line.number]
            named[Name(stated.name, What.DART, dart)] = Drawn(dart, (line.chain,), False)
    for dart, number in stated.darts.items():
        inner = lines.get(number)
        if isinstance(inner, Inner):
            named[Name(stated.name, What.DART, dart)] = Drawn(dart, (inner.chain,), True)
        elif not isinstance(inner, Notched):
            raise BadRecord(place, f"line {number} is no dart", field=f"{stated.name}.{dart}")
    for notch, number in stated.notches.items():
        on = lines.get(number)
        if not isinstance(on, Inner):
            reason = f"line {number} lies on no edge of it"
            raise BadRecord(place, reason, field=f"{stated.name}.{notch}")
        start = _on_the_outline(on, found)
        named[Name(stated.name, What.NOTCH, notch)] = Drawn(notch, (start,), False)
    return named


def _begins(ring: Sequence[OutlineLine | Notched], index: int, edge_of: dict[int, str]) -> bool:
    """Return whether an edge begins with a line of an outline."""
    here, before = (edge_of.get(ring[k].number, "") for k in (index, index - 1))
    return bool(here and before) and here != before


def _on_the_outline(notch: Inner, found: FoundPiece) -> Chain:
    """Return a line that begins on the outline, at the end of a notch that comes nearest."""
    points = notch.chain.flattened()
    sides = [side.chain for side in found.sides]
    places = [
        (abs(side.point_at(along) - p), side.point_at(along))
        for p in points
        for side in sides
        for along in (side.nearest(p),)
    ]
    _, at = min(places, key=lambda place: place[0])
    at = complex(at)
    return Chain.line(at, at + 1)


def _with_setbacks(piece: Piece, stated: StatedPiece, place: str) -> Piece:
    for dart, setback in stated.setbacks.items():
        if dart not in stated.darts:
            raise BadRecord(place, "there is no such dart", field=f"{stated.name}.{dart}")
        mouth = piece.mouth(dart)
        middle = (mouth.first + mouth.second) / 2
        apex = mouth.dart.apex + unit(mouth.dart.apex - middle) * setback
        piece = piece.with_dart(Dart(dart, apex, setback))
    return piece


def _grain(
    piece: Piece, stated: StatedPiece, lines: dict[int, Line], place: str
) -> Grainline | None:
    grain = stated.grain
    if grain is None:
        return None
    if isinstance(grain, int):
        if grain not in lines:
            raise BadRecord(place, f"there is no line {grain} in it", field=f"{piece.name}.grain")
        chain = lines[grain].chain
        return Grainline(chain.start, chain.end)
    return grain_along(piece, grain.removeprefix("along ").strip())


def _levels(
    piece: Piece, stated: StatedPiece, lines: dict[int, Line], place: str
) -> tuple[Level, ...]:
    levels = []
    for name, where in stated.levels.items():
        match where.split():
            case ["line", number] if number.isdecimal() and int(number) in lines:
                chain = lines[int(number)].chain
                level = Level(name, (chain.start.imag + chain.end.imag) / 2)
            case _:
                found = level_at(piece, name, where)
                if found is None:
                    raise BadRecord(
                        place,
                        f'"{where[:40]}" is no level; write "along hem", "at underarm", "at dart '
                        'bust", "line 14" or "212mm below neck-point"',
                        field=f"{piece.name}.{name}",
                    )
                level = found
        levels.append(level)
    return tuple(levels)


# --- sewing ---------------------------------------------------------------------------------------


def _join(draft: Draft, join: StatedJoin, place: str) -> Join:
    ends = []
    for text in (join.first, join.second):
        edge, at, corner = text.partition(" at ")
        if not at:
            reason = f'"{text[:60]}" is not an edge and a corner, as "front.hem at hem-side"'
            raise BadRecord(place, reason, field=join.name)
        ends.append((*draft.split_edge_name(edge.strip()), corner.strip()))
    return Join(join.name, ends[0], ends[1])


def _seam(draft: Draft, seam: StatedSeam, place: str) -> Seam:
    if not (seam.side and seam.mate):
        raise BadRecord(place, "it sews nothing to nothing", field=seam.name)
    if seam.low > seam.high:
        raise BadRecord(place, "its ease goes from more to less", field=seam.name)
    side, mate = runs_of(draft, seam.side), runs_of(draft, seam.mate)
    if len(mate) == 1 and len(side) == 1 and mate != side:
        alike = _way_round(draft, side[0].piece) == _way_round(draft, mate[0].piece)
        mate = (Run(mate[0].piece, mate[0].edge, alike),)
    return Seam(seam.name, side, mate, Band(seam.low, seam.high, EVEN.tolerance))


def _way_round(draft: Draft, piece: str) -> bool:
    """Return whether the edges of a piece follow one another clockwise on paper.

    Pieces that lie the same way up and are sewn together meet along edges of opposite ways.
    """
    return sum(edge.swept_area for edge in draft.piece(piece).edges) > 0


def _missing(draft: Draft, found: Found, stated: Stated) -> tuple[str, ...]:
    missing = []
    for what, names in (
        ("no seam of", [*unsewn_pieces(draft), *unsewn_lines(draft)]),
        ("no levels (bust, waist, hip) in", [p.name for p in draft.pieces if not p.levels]),
        ("no grainline in", [p.name for p in draft.pieces if not p.grainline]),
    ):
        if names:
            missing.append(f"{what} {', '.join(names)}")
    used = {n for p in stated.pieces for lines in p.edges.values() for n in lines}
    used |= {n for p in stated.pieces for n in (*p.darts.values(), *p.notches.values())}
    used |= {n for p in stated.pieces for n in (*p.holes.values(), *p.lines.values())}
    used |= {p.grain for p in stated.pieces if isinstance(p.grain, int)}
    used |= {
        int(where.split()[1])
        for p in stated.pieces
        for where in p.levels.values()
        if where.startswith("line ")
    }
    rest = [
        inner.number
        for piece in found.pieces
        for inner in piece.inner
        if inner.number not in used and inner.looks is not Looks.FOLD
    ]
    if rest:
        missing.append(f"nothing of the lines {', '.join(map(str, rest))}, which are left out")
    return tuple(missing)
