"""The papers a pattern is printed on, and the part of them that is drawn on. Lengths in mm."""

from dataclasses import dataclass

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.failures import Misused
from trueup.geometry.errors import BadLength
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length, parse_length

MARGIN = 10.0
"""Nothing is drawn nearer to the edge of the paper: no usual printer fails to reach this far."""

FOOTER = 9.0
"""The strip above the lower margin in which every page says what it belongs to."""

LONGEST = 5080.0
"""A page of a PDF is at most 14,400 points, 5.08 m, long (ISO 32000-1, annex C.2)."""


@dataclass(frozen=True)
class Paper:
    """A sheet of so many mm, or a roll, which has no height of its own.

    The pieces are spread over several sheets of a tiled paper; on any other each lies whole on one.
    """

    name: str
    width: float
    height: float | None = None
    is_tiled: bool = False

    @property
    def drawn_width(self) -> float:
        """Return how wide the part for the pattern is."""
        return self.width - 2 * MARGIN

    @property
    def drawn_height(self) -> float:
        """Return how high the part for the pattern is; on a roll as high as a page can be."""
        return (LONGEST if self.height is None else self.height) - 2 * MARGIN - FOOTER

    @property
    def window(self) -> Rectangle:
        """Return the part for the pattern, its upper left corner at nought."""
        return Rectangle(0.0, 0.0, self.drawn_width, self.drawn_height)

    @property
    def turned(self) -> "Paper":
        """Return the sheet on its side."""
        if self.height is None:
            return self
        return Paper(self.name, self.height, self.width, self.is_tiled)


# ISO 216 for the A sizes; 8 1/2 by 11 in for Letter.
A4 = Paper("a4", 210.0, 297.0, is_tiled=True)
PAPERS = (
    A4,
    Paper("letter", 215.9, 279.4, is_tiled=True),
    Paper("a3", 297.0, 420.0, is_tiled=True),
    Paper("a0", 841.0, 1189.0),
)


def paper_named(text: str, unit: Unit) -> Paper:
    """Return a paper by its name, or the roll of a width; a bare number takes `unit`.

    Raises Misused.
    """
    for paper in PAPERS:
        if paper.name == text.strip().lower():
            return paper
    try:
        width = parse_length(text, unit)
    except BadLength as error:
        if text.strip()[:1].isdigit():
            raise Misused(said("no-roll", error.reason, roll=text)) from None
        names = ", ".join(paper.name for paper in PAPERS)
        raise Misused(
            f'"{text}" is no paper; name one of {names}, or the width of a roll, as in 91.4cm.'
        ) from None
    if width <= 0:
        raise Misused(f'A roll "{text}" wide is none; give its width, as in 91.4cm.')
    if width > LONGEST:
        raise Misused(said("roll-too-wide", roll=text, most=LONGEST))
    return Paper(f"a roll {format_length(width, unit)} wide", width)
