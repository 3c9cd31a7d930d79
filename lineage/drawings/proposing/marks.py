"""What the holes and lines inside a piece are called: what is written on them, or what they are."""

from collections.abc import Collection, Mapping

from shapely.geometry import LineString

from trueup.geometry.lines.points import coordinates
from trueup.geometry.lines.polygons import polygon
from trueup.lineage.drawings.seen.found import FoundPiece, Inner, Looks, Notched
from trueup.lineage.drawings.seen.words import as_name, says_something
from trueup.lineage.limits import MOST_EDGES

_NEAR_TIP = 30.0
_SIGN = 15.0
_BESIDE = 1.0


def own_word(inner: Inner) -> str | None:
    """Return what someone called a line, the word notch left out; None where nobody did."""
    for label in inner.labels:
        if says_something(label):
            name = as_name(label.replace("notch", " ").replace("Notch", " "))
            if name:
                return name
    return None


def fresh(word: str, taken: Collection[str]) -> str:
    """Return a word that is not taken, with a number where it is."""
    name, count = word, 1
    while name in taken:
        count += 1
        name = f"{word}-{count}"
    return name


def hole_names(piece: FoundPiece, darts: Mapping[str, int]) -> dict[str, int]:
    """Return the holes of a piece by name: one at the tip of a dart is called after that."""
    tips = {
        word: dart.tip for word, number in darts.items() for dart in piece.darts
        if dart.number == number
    }  # fmt: skip
    names: dict[str, int] = {}
    for inner in piece.inner:
        if inner.looks is Looks.HOLE:
            at = inner.middle
            near = min(tips, key=lambda word: abs(tips[word] - at), default=None)
            by = f"{near}-hole" if near and abs(tips[near] - at) <= _NEAR_TIP else "hole"
            names[fresh(own_word(inner) or by, names)] = inner.number
    return names if len(names) <= MOST_EDGES // 2 else {}


def line_names(piece: FoundPiece) -> dict[str, int]:
    """Return the lines drawn inside a piece, to lay or turn cloth by, by name.

    The middle of a dart is none, nor is a sign; of very many none is proposed.
    """
    names: dict[str, int] = {}
    for inner in piece.inner:
        is_drawn = own_word(inner) or inner.size > _SIGN
        if (
            inner.looks is Looks.LINE
            and is_drawn
            and not any(_is_in(inner, dart) for dart in piece.darts)
        ):
            names[fresh(own_word(inner) or "line", names)] = inner.number
    return names if len(names) <= MOST_EDGES // 2 else {}


def _is_in(inner: Inner, dart: Notched) -> bool:
    ground = polygon((dart.first, dart.tip, dart.second)).buffer(_BESIDE)
    return bool(ground.covers(LineString(coordinates(inner.chain.flattened()))))
