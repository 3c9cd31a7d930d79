"""The text file in which a maker reads, corrects and states what the lines of a drawing are.

It is TOML; lengths are written with their unit, as `12mm` or `1/2in`.
"""

import re
from collections.abc import Mapping

import msgspec
import tomli
from msgspec import Struct

from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit, format_length, parse_length
from trueup.lineage.drawings.seen.found import Found
from trueup.lineage.drawings.stating.stated import (
    Stated,
    StatedJoin,
    StatedPiece,
    StatedSeam,
)
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import LARGEST_RECORD, MOST_EDGES, MOST_LINES, MOST_PIECES, MOST_SEAMS

_HEAD = """\
# What the lines of {source} are. It is a proposal: nothing is recorded by it.
# Correct it, and give it to trace with --names; the numbers are those of the picture.
#
# edges      the lines of each edge, in order round the piece; darts part an edge
# darts      the line of each dart; setbacks: how far its tip stops short of what it aims at
# levels     "along hem", "at underarm", "at dart bust", "line 14" or "212mm below neck-point"
# holes      a hole that is drilled; lines: one drawn inside, to lay a pocket or turn cloth by
# fold       the edge that lies on the fold; grain: a line, or "along centre"
# free       edges that are sewn to nothing; a neck, a hem and an opening need not be said
# seams      edges sewn together, from the same end; ease: how much longer the side may be
#
"""


class _Piece(Struct, forbid_unknown_fields=True):
    name: str
    edges: dict[str, list[int]]
    darts: dict[str, int] = {}
    setbacks: dict[str, str] = {}
    notches: dict[str, int] = {}
    levels: dict[str, str] = {}
    holes: dict[str, int] = {}
    lines: dict[str, int] = {}
    fold: str = ""
    grain: int | str = ""
    free: list[str] = []


class _Seam(Struct, forbid_unknown_fields=True):
    name: str
    side: str
    mate: str
    ease: str = "0mm to 0mm"


class _Join(Struct, forbid_unknown_fields=True):
    name: str
    first: str
    second: str


class _File(Struct, forbid_unknown_fields=True):
    piece: list[_Piece]
    seam: list[_Seam] = []
    join: list[_Join] = []


def names_text(found: Found, stated: Stated, source: str, unit: Unit) -> str:
    """Return the text of the file for a proposal; lengths in comments are in a unit."""
    says = [_HEAD.format(source=_comment(source))]
    for piece in stated.pieces:
        says.append(_piece_text(piece, _lengths(found), unit))
    for seam in stated.seams:
        ease = f"{_mm(seam.low)} to {_mm(seam.high)}"
        says.append(
            f"[[seam]]\nname = {_quoted(seam.name)}\nside = {_quoted(' '.join(seam.side))}\n"
            f"mate = {_quoted(' '.join(seam.mate))}\nease = {_quoted(ease)}\n"
        )
    says += [
        f"[[join]]\nname = {_quoted(join.name)}\nfirst = {_quoted(join.first)}\n"
        f"second = {_quoted(join.second)}\n"
        for join in stated.joins
    ]
    return "\n".join(says)


def _lengths(found: Found) -> dict[int, float]:
    return {
        line.number: line.chain.length
        for piece in found.pieces
        for line in (*piece.ring, *piece.inner)
    }


def _piece_text(piece: StatedPiece, lengths: Mapping[int, float], unit: Unit) -> str:
    says = [f"[[piece]]\nname = {_quoted(piece.name)}"]
    if piece.fold:
        says.append(f"fold = {_quoted(piece.fold)}")
    if piece.grain is not None:
        grain = piece.grain if isinstance(piece.grain, int) else _quoted(piece.grain)
        says.append(f"grain = {grain}")
    if piece.free:
        says.append(f"free = [{', '.join(map(_quoted, piece.free))}]")
    says.append("[piece.edges]")
    for edge, lines in piece.edges.items():
        length = sum(lengths.get(line, 0.0) for line in lines)
        says.append(f"{edge} = {list(lines)}  # {format_length(length, unit)}")
    tables: tuple[tuple[str, dict[str, str]], ...] = (
        ("darts", {name: str(line) for name, line in piece.darts.items()}),
        ("setbacks", {name: _quoted(_mm(mm)) for name, mm in piece.setbacks.items()}),
        ("notches", {name: str(line) for name, line in piece.notches.items()}),
        ("levels", {name: _quoted(where) for name, where in piece.levels.items()}),
        ("holes", {name: str(line) for name, line in piece.holes.items()}),
        ("lines", {name: str(line) for name, line in piece.lines.items()}),
    )
    for table, values in tables:
        if values:
            says.append(f"[piece.{table}]")
            says += [f"{name} = {value}" for name, value in values.items()]
    return "\n".join(says) + "\n"


def _mm(length: float) -> str:
    return f"{round(length, 4):g}mm"


def _quoted(text: str) -> str:
    return '"' + re.sub(r'["\\\x00-\x1f\x7f]', "?", text) + '"'


def _comment(text: str) -> str:
    return "".join(letter if letter.isprintable() else "?" for letter in text)[:200]


def read_names(content: bytes, place: str) -> Stated:
    """Return what a text file states; raises BadRecord with what cannot be read, and where."""
    if len(content) > LARGEST_RECORD or content.count(b"\n") > MOST_LINES:
        raise BadRecord(place, "it is larger than any such file")
    try:
        file = msgspec.convert(tomli.loads(content.decode("utf-8")), _File)
    except UnicodeDecodeError:
        raise BadRecord(place, "it is not UTF-8 text") from None
    except (tomli.TOMLDecodeError, msgspec.ValidationError, RecursionError) as error:
        raise BadRecord(place, str(error)) from None
    edges = max((len(piece.edges) for piece in file.piece), default=0)
    if len(file.piece) > MOST_PIECES or len(file.seam) > MOST_SEAMS or edges > MOST_EDGES:
        raise BadRecord(place, "it states more pieces, edges or seams than any block has")
    return Stated(
        tuple(_piece(piece, place) for piece in file.piece),
        tuple(_seam(seam, place) for seam in file.seam),
        tuple(StatedJoin(join.name, join.first, join.second) for join in file.join),
    )


def _piece(piece: _Piece, place: str) -> StatedPiece:
    setbacks = {
        dart: _length(mm, place, f"{piece.name}.{dart}") for dart, mm in piece.setbacks.items()
    }
    return StatedPiece(
        piece.name,
        {edge: tuple(lines) for edge, lines in piece.edges.items()},
        dict(piece.darts),
        setbacks,
        dict(piece.notches),
        dict(piece.levels),
        dict(piece.holes),
        dict(piece.lines),
        piece.fold or None,
        piece.grain if piece.grain != "" else None,
        tuple(piece.free),
    )


def _seam(seam: _Seam, place: str) -> StatedSeam:
    low, to, high = seam.ease.partition(" to ")
    band = [_length(text, place, seam.name) for text in ((low, high) if to else (low, low))]
    return StatedSeam(
        seam.name, tuple(seam.side.split()), tuple(seam.mate.split()), band[0], band[1]
    )


def _length(text: str, place: str, field: str) -> float:
    sign = -1.0 if text.strip().startswith("-") else 1.0
    try:
        return sign * parse_length(text.strip().lstrip("-"), Unit.MILLIMETRE)
    except GeometryError as error:
        raise BadRecord(place, error.says, field=field) from None
