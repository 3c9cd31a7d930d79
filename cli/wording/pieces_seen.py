"""The words for what pieces of a drawing seem to be, and by what they are called so."""

from collections.abc import Iterator, Sequence

from trueup.lineage.drawings.proposing.drawing_file import LookedAt
from trueup.lineage.drawings.proposing.piece_names import NamedBy
from trueup.lineage.drawings.proposing.sewing import EXPECTED_LEVELS

NAMED_BY = {
    NamedBy.WRITTEN: "what is written on it",
    NamedBy.ONLY_ONE: "its form; it is the only one",
    NamedBy.NECK: "its form, and how deep its neck is cut beside the other's",
    NamedBy.DART: "its form, and how long and wide its darts are beside the other's",
    NamedBy.CROTCH: "its form, and how long its crotch is beside the other's",
    NamedBy.THE_OTHER: "its form; the other one has its name",
    NamedBy.NOTHING: "nothing",
}
SAID = "what you say"

_BELOW = ("skirt", "trouser")


def called_by(by: NamedBy | None) -> str:
    """Return by what a piece is called so, in words."""
    return SAID if by is None else NAMED_BY[by]


def turn(degrees: float) -> str:
    """Return in words how a piece was turned to stand upright."""
    if not degrees:
        return "as drawn"
    if abs(degrees) == 180.0:
        return "upside down"
    return f"{abs(degrees):.4g}° {'clockwise' if degrees > 0 else 'anticlockwise'}"


def to_be_said(looked: LookedAt) -> Iterator[str]:
    """Yield what is left for the maker to say of pieces: their names, and levels none shows."""
    if NamedBy.NOTHING in looked.named_by:
        yield from _unnamed(looked)
    lacking: dict[tuple[str, ...], list[tuple[str, str]]] = {}
    for piece, form in zip(looked.stated.pieces, looked.forms, strict=False):
        levels = tuple(x for x in EXPECTED_LEVELS.get(form or "", ()) if x not in piece.levels)
        if form and levels:
            lacking.setdefault(levels, []).append((piece.name, form))
    for levels, pieces in lacking.items():
        first, form = pieces[0]
        yield (
            f"No line shows {_and(levels)} of {_and([name for name, _ in pieces])}: name one, as "
            f"--name 14={first}.level.{levels[0]}, or write it in the file of --write-names, as "
            f'{levels[0]} = "{_EXAMPLES[form]}".'
        )


_EXAMPLES = {
    "bodice": "at underarm",
    "sleeve": "at front-underarm",
    "skirt": "206mm below waist-side",
    "trouser": "206mm below waist-side",
}


def _unnamed(looked: LookedAt) -> Iterator[str]:
    pieces = looked.stated.pieces
    for form in _BELOW:
        names = [
            piece.name
            for piece, each, by in zip(pieces, looked.forms, looked.named_by, strict=True)
            if each == form and by is NamedBy.NOTHING
        ]
        if names:
            yield (
                f"{_and(names)} {'look' if len(names) > 1 else 'looks'} like a {form}, and nothing "
                f"tells front from back: name {'each' if len(names) > 1 else 'it'}, as --name "
                f"{names[0]}={form}-front."
            )
    rest = [
        piece.name
        for piece, each, by in zip(pieces, looked.forms, looked.named_by, strict=True)
        if each not in _BELOW and by is NamedBy.NOTHING
    ]
    if rest:
        yield f"Nothing tells what {_and(rest)} {_is(rest)}: name it, as --name {rest[0]}=front."


def _and(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _is(names: Sequence[str]) -> str:
    return "are" if len(names) > 1 else "is"
