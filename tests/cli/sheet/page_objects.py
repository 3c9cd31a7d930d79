"""What stands on the pages of a PDF as a third library (pdfium) finds it: quick, for many pages."""

import ctypes
from collections.abc import Iterator
from contextlib import closing

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
from numpy.typing import NDArray

MM = 25.4 / 72
SAMPLE = 22.5
"""A line of the legend is so long; everything in its pen that reaches farther is of a piece."""

_OF_A_PIECE = (0.5, 0.3, 0.35, 0.4)
"""The widths in which cutting lines, seam lines, darts, grainlines and folds are drawn, mm."""


def counts_of_piece_lines(content: bytes) -> list[int]:
    """Return how many lines of pieces each page shows, those of the frame and the legend left out.

    A line in no dashes of the width of a seam is a cross or the outline on a map, and no piece's.
    """
    with closing(pypdfium2.PdfDocument(content)) as document:
        return [sum(map(_is_of_a_piece, _paths(page))) for page in document]


def _paths(page: pypdfium2.PdfPage) -> Iterator[pypdfium2.PdfObject]:
    yield from page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH])


def _is_of_a_piece(path: pypdfium2.PdfObject) -> bool:
    width = ctypes.c_float()
    pdfium.FPDFPageObj_GetStrokeWidth(path.raw, width)
    dashes = pdfium.FPDFPageObj_GetDashCount(path.raw)
    left, bottom, right, top = (each * MM for each in path.get_bounds())
    is_sample = right - left < SAMPLE + 1 and top - bottom < 1
    known = any(abs(width.value * MM - each) < 0.01 for each in _OF_A_PIECE)
    is_thin_and_whole = abs(width.value * MM - 0.3) < 0.01 and dashes == 0
    return known and not is_sample and not is_thin_and_whole


def inked(content: bytes, dots_a_mm: float = 4.0) -> list[NDArray[np.bool_]]:
    """Return each page rendered without its words: where there is ink."""
    with closing(pypdfium2.PdfDocument(content)) as document:
        found = []
        for page in document:
            for words in list(page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT])):
                page.remove_obj(words)
            page.gen_content()
            seen = page.render(scale=dots_a_mm * MM, grayscale=True).to_numpy()
            found.append(seen[..., 0] < 128 if seen.ndim == 3 else seen < 128)
        return found
