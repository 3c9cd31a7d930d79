"""A PDF as another library reads it, in mm from the upper left corner of each page."""

import io
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pdfplumber
from shapely.geometry import LineString

from trueup.cli.sheet.ink.drawn import InkPen

MM = 25.4 / 72


@dataclass(frozen=True)
class Read:
    """A line on a page, and the width and dashes it is drawn with."""

    points: tuple[complex, ...]
    width: float
    dashes: tuple[float, ...]

    @property
    def length(self) -> float:
        return sum(abs(b - a) for a, b in zip(self.points, self.points[1:], strict=False))

    @property
    def line(self) -> LineString:
        return LineString([(p.real, p.imag) for p in self.points])

    def is_in(self, pen: InkPen) -> bool:
        alike = len(self.dashes) == len(pen.dashes) and all(
            abs(a - b) < 0.01 for a, b in zip(self.dashes, pen.dashes, strict=True)
        )
        return alike and abs(self.width - pen.width) < 0.01


@dataclass(frozen=True)
class ReadPage:
    """A page: its size, its lines, its letters with the place of each, and its text."""

    width: float
    height: float
    lines: tuple[Read, ...]
    letters: tuple[Any, ...]
    words: tuple[Any, ...]
    text: str

    def in_pen(self, pen: InkPen) -> list[Read]:
        return [line for line in self.lines if line.is_in(pen)]

    def reach(self) -> Iterator[complex]:
        """Yield the corners of everything on the page."""
        for line in self.lines:
            yield from line.points
        for letter in self.letters:
            yield complex(letter["x0"], letter["top"]) * MM
            yield complex(letter["x1"], letter["bottom"]) * MM


def read(content: bytes) -> list[ReadPage]:
    with pdfplumber.open(io.BytesIO(content)) as pdf:
        return [_page(page) for page in pdf.pages]


def metadata(content: bytes) -> dict[str, str]:
    with pdfplumber.open(io.BytesIO(content)) as pdf:
        return dict(pdf.metadata)


def _page(page: Any) -> ReadPage:
    drawn = [*page.lines, *page.curves, *page.rects]
    return ReadPage(
        float(page.width) * MM,
        float(page.height) * MM,
        tuple(_line(each) for each in drawn),
        tuple(page.chars),
        tuple(page.extract_words(extra_attrs=["size"])),
        page.extract_text(),
    )


def _line(drawn: Any) -> Read:
    points = [complex(x, y) * MM for x, y in drawn["pts"]]
    if drawn["object_type"] == "rect" and points[0] != points[-1]:
        points.append(points[0])
    dashes, _ = drawn["dash"] or ((), 0)
    return Read(tuple(points), float(drawn["linewidth"]) * MM, tuple(float(d) * MM for d in dashes))
