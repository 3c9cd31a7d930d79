"""Names that a maker gives single lines or pieces, put in the place of what was proposed.

`3=front.armhole` says that line 3 is, or is part of, that edge; `4=front.dart.bust` a dart;
`9=front.notch.crown` a notch, `10=front.hole.bust` a drill hole, `11=front.line.pocket` a line that
is drawn inside, `12=front.grainline` the grain, `14=front.level.hip` a level.
`piece-1=front` names a piece anew: the first, or one that is called so. In the place of a number
may stand what the line is called in its file.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from trueup.lineage.drawings.proposing.piece_names import numbered
from trueup.lineage.drawings.proposing.proposing import sewn
from trueup.lineage.drawings.seen.found import Found, FoundPiece, Inner, Notched
from trueup.lineage.drawings.stating.stated import Stated, StatedPiece
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.reading import is_name


def named(found: Found, stated: Stated, names: Mapping[str, str], place: str) -> Stated:
    """Return what is stated once lines and pieces have the names given; raises BadRecord."""
    pieces = list(stated.pieces)
    for given, name in names.items():
        index = _piece_called(given, pieces)
        if index is not None and "." not in name:
            pieces[index] = _renamed(pieces, index, name, place)
            continue
        number = _number(found, given, place)
        index = _owner(found, pieces, number)
        if index is None:
            raise BadRecord(place, f"line {number} is of a piece that is not stated", field=name)
        piece, _, what = name.partition(".")
        if not what:
            reason = f'"{name[:60]}" is not piece.edge, as front.side'
            raise BadRecord(place, reason, field=given)
        if piece != pieces[index].name:
            pieces[index] = _renamed(pieces, index, piece, place)
        pieces[index] = _with_line(found, pieces[index], number, what, place)
    return sewn(found, tuple(pieces)) if names else stated


def _piece_called(given: str, pieces: list[StatedPiece]) -> int | None:
    """Return which piece is meant by a name: its own, or piece-3 for the third."""
    names = [piece.name for piece in pieces]
    if given in names:
        return names.index(given)
    numbers = [numbered(k) for k in range(len(pieces))]
    return numbers.index(given) if given in numbers else None


def _renamed(pieces: list[StatedPiece], index: int, name: str, place: str) -> StatedPiece:
    if not is_name(name):
        raise BadRecord(place, f'the name "{name[:60]}" is no plain word')
    if any(piece.name == name for k, piece in enumerate(pieces) if k != index):
        reason = f"another piece is called {name} already"
        raise BadRecord(place, reason, field=pieces[index].name)
    return replace(pieces[index], name=name)


def _number(found: Found, given: str, place: str) -> int:
    lines = [line for piece in found.pieces for line in (*piece.ring, *piece.inner)]
    if given.isdecimal() and len(given) < 8:
        if any(line.number == int(given) for line in lines):
            return int(given)
    else:
        called = [
            line.number
            for line in lines
            if not isinstance(line, Notched) and given in (line.id, *line.labels)
        ]
        if len(called) == 1:
            return called[0]
        if called:
            reason = f"it is several lines by now, {', '.join(map(str, called[:9]))}: name these"
            raise BadRecord(place, reason, field=given)
    raise BadRecord(place, "there is no line of this number or id", field=given)


def _owner(found: Found, pieces: list[StatedPiece], number: int) -> int | None:
    owner = next(p for p in found.pieces if number in _numbers(p))
    for index, piece in enumerate(pieces):
        lines = [line for each in piece.edges.values() for line in each]
        if lines and lines[0] in _numbers(owner):
            return index
    return None


def _numbers(piece: FoundPiece) -> set[int]:
    return {line.number for line in (*piece.ring, *piece.inner)}


def _with_line(found: Found, piece: StatedPiece, number: int, what: str, place: str) -> StatedPiece:
    """Return a piece in which a line has a name, and no other."""
    bare = replace(
        piece,
        edges={
            edge: kept
            for edge, lines in piece.edges.items()
            if (kept := tuple(line for line in lines if line != number))
        },
        darts={word: line for word, line in piece.darts.items() if line != number},
        notches={word: line for word, line in piece.notches.items() if line != number},
        holes={word: line for word, line in piece.holes.items() if line != number},
        lines={word: line for word, line in piece.lines.items() if line != number},
        grain=None if piece.grain == number else piece.grain,
        levels={word: at for word, at in piece.levels.items() if at != f"line {number}"},
    )
    match what.split("."):
        case [("dart" | "notch" | "hole" | "line") as of, word]:
            table = {"dart": "darts", "notch": "notches", "hole": "holes", "line": "lines"}[of]
            put: dict[str, Any] = {table: {**getattr(bare, table), word: number}}
            return replace(bare, **put)
        case ["level", word]:
            return replace(bare, levels={**bare.levels, word: f"line {number}"})
        case ["grainline"]:
            return replace(bare, grain=number)
        case ["fold"]:
            edge = next((edge for edge, lines in piece.edges.items() if number in lines), None)
            return replace(piece, fold=edge)
        case [edge]:
            return _with_edge(found, piece, bare, number, edge)
    reason = (
        f'"{what[:60]}" is no edge, dart.NAME, notch.NAME, hole.NAME, line.NAME, level.NAME, '
        "grainline or fold"
    )
    raise BadRecord(place, reason, field=str(number))


def _with_edge(
    found: Found, piece: StatedPiece, bare: StatedPiece, number: int, edge: str
) -> StatedPiece:
    """Return a piece in which a line is an edge, with the lines it was proposed to go with."""
    old = next((name for name, lines in piece.edges.items() if number in lines), None)
    if old == edge:
        return piece
    owner = next(p for p in found.pieces if number in _numbers(p))
    if any(isinstance(line, Inner) and line.number == number for line in owner.inner):
        return bare
    if old is not None and edge not in piece.edges:
        # The whole edge is called otherwise: the parts that darts leave of it are one.
        renamed = {edge if name == old else name: lines for name, lines in piece.edges.items()}
        fold = edge if piece.fold == old else piece.fold
        levels = {
            word: f"along {edge}" if at == f"along {old}" else at
            for word, at in piece.levels.items()
        }
        return replace(piece, edges=renamed, fold=fold, levels=levels)
    order = [line.number for line in owner.ring]
    lines = sorted((*bare.edges.get(edge, ()), number), key=order.index)
    return replace(bare, edges={**bare.edges, edge: tuple(lines)})
