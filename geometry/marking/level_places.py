"""Where a level of the body lies on a piece, as a maker says it."""

import re

from trueup.geometry.pieces.piece import Level, Piece
from trueup.geometry.pieces.position import point_in_words
from trueup.geometry.units import Unit, format_length, parse_length

_FROM_CORNER = re.compile(r"(.+?) (below|above) ([a-z][a-z0-9-]*)")


def level_at(piece: Piece, name: str, where: str) -> Level | None:
    """Return a level of a piece: "along hem", "at underarm", "at dart bust", "20cm below waist".

    None for words that say nothing of it. Raises NoSuchName for what the piece does not have,
    BadLength for an amount that does not parse.
    """
    match where.split():
        case ["along", edge]:
            along = piece.edge(edge)
            return Level(name, (along.start.imag + along.end.imag) / 2, along.name)
        case ["at", "dart", dart]:
            return Level(name, piece.mouth(dart).dart.apex.imag)
        case ["at", corner]:
            return Level(name, piece.corner(corner).imag)
    said = _FROM_CORNER.fullmatch(" ".join(where.split()))
    if said is None:
        return None
    down = parse_length(said[1], Unit.MILLIMETRE)
    return Level(name, _height(piece, said[3]) + (down if said[2] == "below" else -down))


def level_in_words(where: str, unit: Unit) -> str:
    """Return where a level lies as a maker would say it, an amount in `unit`.

    >>> level_in_words("200mm below waist", Unit.CENTIMETRE), level_in_words("along hem", Unit.INCH)
    ('20 cm below the waist', 'along the hem')
    """
    match where.split():
        case ["at", "dart", dart]:
            return f"at the dart {dart}"
        case ["along" | "at" as how, place]:
            return f"{how} {point_in_words(place)}"
    said = _FROM_CORNER.fullmatch(" ".join(where.split()))
    if said is None:
        return where
    far = format_length(parse_length(said[1], Unit.MILLIMETRE), unit)
    return f"{far} {said[2]} {point_in_words(said[3])}"


def _height(piece: Piece, place: str) -> float:
    """Return how far down the page a corner lies, or another level."""
    return piece.level(place).y if piece.has_level(place) else piece.corner(place).imag
