"""What the `transform` of an SVG element says, as one way."""

import re
from math import cos, radians, sin, tan

from trueup.lineage.drawings.safe_svg import NUMBER
from trueup.lineage.drawings.shapes.affine import Affine
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import MOST_MOVES

_MOVES = re.compile(r"\s*([a-zA-Z]+)\s*\(([^()]*)\)[\s,]*")
_NUMBERS = re.compile(rf"\s*{NUMBER}(?:[\s,]+{NUMBER}|(?=[-+]){NUMBER}){{0,5}}\s*")
_ONE = re.compile(NUMBER)


def transform(text: str, place: str) -> Affine:
    """Return the way a transform says; `place` is what a message calls the file.

    Raises BadRecord where it cannot be read.
    """
    motion, end, whole = Affine(), 0, text.strip()
    for _ in range(MOST_MOVES):
        if end == len(whole):
            break
        found = _MOVES.match(whole, end)
        if not found or not _NUMBERS.fullmatch(found[2]):
            raise BadRecord(place, f'its transform "{text[:40]}" cannot be read')
        amounts = [float(number) for number in _ONE.findall(found[2])]
        one = _one_move(found[1], amounts)
        if one is None:
            raise BadRecord(place, f'its transform "{text[:40]}" is none that can be followed')
        motion, end = motion.after(one), found.end()
    if end < len(whole):
        raise BadRecord(place, f"a transform of it has more than {MOST_MOVES} moves")
    return motion


def _one_move(word: str, amounts: list[float]) -> Affine | None:
    move: Affine | None = None
    match word, amounts:
        case "translate", [x, *rest] if len(rest) < 2:
            move = Affine(e=x, f=rest[0] if rest else 0.0)
        case "scale", [x, *rest] if len(rest) < 2:
            move = Affine(a=x, d=rest[0] if rest else x)
        case "rotate", [degrees, *rest] if len(rest) in (0, 2):
            x, y = rest or (0.0, 0.0)
            c, s = cos(radians(degrees)), sin(radians(degrees))
            move = Affine(c, s, -s, c, x - c * x + s * y, y - s * x - c * y)
        case "skewX", [degrees]:
            move = Affine(c=tan(radians(degrees)))
        case "skewY", [degrees]:
            move = Affine(b=tan(radians(degrees)))
        case "matrix", [a, b, c, d, e, f]:
            move = Affine(a, b, c, d, e, f)
    return move
