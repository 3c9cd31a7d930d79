"""The words on the pages of a PDF as pdfium finds them: the room of each, turned as it is."""

import ctypes
from contextlib import closing
from dataclasses import dataclass

import pypdfium2
import pypdfium2.raw as pdfium
import shapely

MM = 25.4 / 72


@dataclass(frozen=True)
class PageWords:
    """Words that were written at once: their room in mm from the upper left corner of the page."""

    text: str
    room: shapely.Polygon
    is_bold: bool
    across: float
    """How far its writing runs to the right, from -1 to 1, and `down` the page."""
    down: float


def words_of(content: bytes) -> list[list[PageWords]]:
    """Return the words on each page."""
    with closing(pypdfium2.PdfDocument(content)) as document:
        return [_on(page) for page in document]


def _on(page: pypdfium2.PdfPage) -> list[PageWords]:
    height = page.get_height()
    letters = page.get_textpage()
    found = []
    for each in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT]):
        text = _text(each, letters)
        if text.strip():
            found.append(PageWords(text, _room(each, height), _is_bold(each), *_way(each)))
    return found


def _text(each: pypdfium2.PdfObject, letters: pypdfium2.PdfTextPage) -> str:
    size = pdfium.FPDFTextObj_GetText(each.raw, letters.raw, None, 0)
    buffer = (ctypes.c_ushort * (size // 2))()
    pdfium.FPDFTextObj_GetText(each.raw, letters.raw, buffer, size)
    return bytes(buffer).decode("utf-16-le").rstrip("\0")


def _room(each: pypdfium2.PdfObject, height: float) -> shapely.Polygon:
    quad = pdfium.FS_QUADPOINTSF()
    assert pdfium.FPDFPageObj_GetRotatedBounds(each.raw, quad)
    corners = ((quad.x1, quad.y1), (quad.x2, quad.y2), (quad.x3, quad.y3), (quad.x4, quad.y4))
    return shapely.Polygon([(x * MM, (height - y) * MM) for x, y in corners])


def _is_bold(each: pypdfium2.PdfObject) -> bool:
    font = pdfium.FPDFTextObj_GetFont(each.raw)
    size = pdfium.FPDFFont_GetBaseFontName(font, None, 0)
    name = ctypes.create_string_buffer(size)
    pdfium.FPDFFont_GetBaseFontName(font, name, size)
    return b"Bold" in name.value or b"-Bd" in name.value


def _way(each: pypdfium2.PdfObject) -> tuple[float, float]:
    matrix = each.get_matrix()
    long = abs(complex(matrix.a, matrix.b))
    return matrix.a / long, -matrix.b / long
