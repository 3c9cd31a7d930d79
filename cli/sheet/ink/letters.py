"""The letters of a sheet: how wide words are, and which the typeface can write. Sizes in mm.

The typeface is Bitstream Vera, which the PDF library brings along and which is put into the file,
so that a sheet looks alike everywhere.
"""

from functools import lru_cache
from pathlib import Path
from typing import Any

import reportlab
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from trueup.lineage.errors import printable

POINTS_IN_MM = 72 / 25.4
PLAIN = "SheetPlain"
BOLD = "SheetBold"

_FILES = {PLAIN: "Vera.ttf", BOLD: "VeraBd.ttf"}
_UNKNOWN = "?"


@lru_cache(maxsize=2)
def typeface(name: str) -> Any:
    """Return a typeface, ready to be written with."""
    font = TTFont(name, str(Path(reportlab.__file__).parent / "fonts" / _FILES[name]))
    pdfmetrics.registerFont(font)
    return font


def writable(text: str) -> str:
    """Return a text on one line, with a question mark for each letter that cannot be written."""
    known = typeface(PLAIN).face.charToGlyph
    line = printable(" ".join(text.split()))
    return "".join(letter if ord(letter) in known else _UNKNOWN for letter in line)


def lacking(text: str) -> str:
    """Return the letters of a text that cannot be written, each once."""
    known = typeface(PLAIN).face.charToGlyph
    return "".join(dict.fromkeys(c for c in text if not c.isspace() and ord(c) not in known))


@lru_cache(maxsize=4096)
def width_of(text: str, size: float, bold: bool = False) -> float:
    """Return how wide a text is at a size."""
    name = BOLD if bold else PLAIN
    typeface(name)
    return float(pdfmetrics.stringWidth(writable(text), name, size))


@lru_cache(maxsize=1024)
def wrapped(text: str, width: float, size: float, bold: bool = False) -> tuple[str, ...]:
    """Return a text broken into lines of at most a width; a word too long for one is cut up."""
    lines: list[str] = []
    line = ""
    for word in writable(text).split():
        longer = f"{line} {word}" if line else word
        if width_of(longer, size, bold) <= width:
            line = longer
            continue
        lines += [line] if line else []
        line = word
        while width_of(line, size, bold) > width and len(line) > 1:
            fits = next(
                n for n in range(len(line) - 1, 0, -1) if n == 1 or _fits(line[:n], width, size)
            )
            lines.append(line[:fits])
            line = line[fits:]
    return (*lines, line) if line else tuple(lines)


def _fits(text: str, width: float, size: float) -> bool:
    return width_of(text, size, bold=True) <= width
