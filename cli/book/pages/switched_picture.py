"""The picture of a pattern, and the switches of its layers, which are its key as well."""

from dataclasses import dataclass
from types import MappingProxyType

from markupsafe import Markup

from trueup.cli.book.figures import figure
from trueup.cli.book.source import BookSource
from trueup.cli.drawing.pattern_picture import PictureLayer, layers_of, pattern_picture
from trueup.geometry.comparing.comparison import Comparison
from trueup.geometry.pieces.piece import Piece
from trueup.lineage.replay.standing import waiting_at

_WORDS = MappingProxyType(
    {
        PictureLayer.SEAM: "seam line",
        PictureLayer.CUT: "cutting line",
        PictureLayer.MOVED: "what moved last",
        PictureLayer.NOTCH: "notches",
        PictureLayer.NAME: "names",
    }
)
_AT_FIRST = frozenset({PictureLayer.SEAM, PictureLayer.CUT, PictureLayer.NOTCH, PictureLayer.NAME})


@dataclass(frozen=True)
class Switch:
    """One layer: its name for the page's script, what it is, and whether it is on at first."""

    layer: str
    words: str
    is_on: bool


@dataclass(frozen=True)
class SwitchedPicture:
    """The picture as HTML, its switches, and which signs are in it that no switch tells of."""

    picture: Markup
    switches: tuple[Switch, ...]
    has_fold: bool
    has_marks: bool


def switched_picture(
    source: BookSource, name: str, moved: Comparison | None, number: int
) -> SwitchedPicture:
    """Return the picture of a node; `number` keeps it apart from the others of its page."""
    draft = source.evaluator.draft(name)
    conflicts = waiting_at(source.evaluator, name)
    scene = pattern_picture(draft, f"{name}, its pieces as they are cut", conflicts, moved)
    drawn = layers_of(scene)
    return SwitchedPicture(
        figure(scene, number),
        tuple(
            Switch(layer.value, words, layer in _AT_FIRST)
            for layer, words in _WORDS.items()
            if layer in drawn
        ),
        any(piece.fold for piece in draft.pieces),
        any(_is_marked(piece, [each.piece for each in conflicts]) for piece in draft.pieces),
    )


def _is_marked(piece: Piece, places: list[str]) -> bool:
    return piece.name in places
