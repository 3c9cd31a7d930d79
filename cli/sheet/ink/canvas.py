"""The pages of a PDF, drawn on in mm from the upper left corner, y down.

The bytes follow from what is drawn alone: the file's own date is the version's, not the clock's.
Format: ISO 32000-1 (PDF 1.4 and later); one unit of it is 1/72 in.
"""

import datetime
import io
from collections.abc import Sequence
from typing import Any

from reportlab.pdfgen.canvas import FILL_EVEN_ODD, Canvas

from trueup.cli.sheet.ink.drawn import Filled, InkPen, InkWords, SizePen
from trueup.cli.sheet.ink.letters import BOLD, PLAIN, POINTS_IN_MM, typeface, writable
from trueup.geometry.lines.points import Point


class Pages:
    """A PDF that is written page by page."""

    def __init__(self, title: str, version: str, date: datetime.date) -> None:
        self._stream = io.BytesIO()
        self._canvas: Any = Canvas(self._stream, invariant=1, pageCompression=1)
        for name in (PLAIN, BOLD):
            typeface(name)
        self._canvas.setTitle(writable(title))
        self._canvas.setSubject(f"version {version}")
        self._canvas.setKeywords(f"version {version}")
        self._canvas.setAuthor("")
        self._canvas.setCreator("trueup")
        written = f"D:{date:%Y%m%d}000000Z"
        self._canvas.setDateFormatter(lambda *_: written)
        self._height = 0.0
        self._ink = InkPen.CUT.colour

    def start(self, width: float, height: float) -> None:
        """Begin a page of a size."""
        self._height, self._ink = height, InkPen.CUT.colour  # each page begins in black
        self._canvas.setPageSize((width * POINTS_IN_MM, height * POINTS_IN_MM))
        self._canvas.setLineCap(1)
        self._canvas.setLineJoin(1)

    def line(self, points: Sequence[Point], pen: InkPen | SizePen) -> None:
        """Draw a polyline."""
        self._canvas.setLineWidth(pen.width * POINTS_IN_MM)
        if pen.colour != self._ink:
            self._canvas.setStrokeColorRGB(*pen.colour)
            self._ink = pen.colour
        self._canvas.setDash([dash * POINTS_IN_MM for dash in pen.dashes])
        path = self._canvas.beginPath()
        path.moveTo(*self._at(points[0]))
        for point in points[1:]:
            path.lineTo(*self._at(point))
        self._canvas.drawPath(path)

    def area(self, filled: Filled) -> None:
        """Fill an area black; what lies within an even number of its rings stays white."""
        path = self._canvas.beginPath()
        for ring in filled.rings:
            path.moveTo(*self._at(ring[0]))
            for point in ring[1:]:
                path.lineTo(*self._at(point))
            path.close()
        self._canvas.drawPath(path, stroke=0, fill=1, fillMode=FILL_EVEN_ODD)

    def words(self, words: InkWords) -> None:
        """Write a line of words."""
        self._canvas.setFont(BOLD if words.bold else PLAIN, words.size * POINTS_IN_MM)
        text, at = writable(words.text), self._at(words.at)
        if words.way == 1:
            self._canvas.drawString(*at, text)
            return
        self._canvas.saveState()
        across, up = words.way.real, -words.way.imag
        self._canvas.transform(across, up, -up, across, *at)
        self._canvas.drawString(0, 0, text)
        self._canvas.restoreState()

    def end(self) -> None:
        """Finish the page."""
        self._canvas.showPage()

    def content(self) -> bytes:
        """Return the whole file."""
        self._canvas.save()
        return self._stream.getvalue()

    def _at(self, point: Point) -> tuple[float, float]:
        return point.real * POINTS_IN_MM, (self._height - point.imag) * POINTS_IN_MM
