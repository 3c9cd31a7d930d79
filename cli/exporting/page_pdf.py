"""A draft as a PDF of one page, as large as its pieces need, at true scale. Lengths in mm.

It is drawn as a sheet is, with seam and cutting lines, but for no paper: nothing is spread over
pages.
"""

import math

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.sheet.cover import column_blocks
from trueup.cli.sheet.document import Page, on_area, written
from trueup.cli.sheet.facts import Facts
from trueup.cli.sheet.ink.blocks import flowed
from trueup.cli.sheet.laying.beside import lay_beside
from trueup.cli.sheet.laying.layout import to_print
from trueup.cli.sheet.naming.seam_letters import lettered
from trueup.cli.sheet.piece_lines import Layer
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pleats.laid_open import as_cut

COLUMN = 80.0
"""The column beside the pieces is so wide."""


def page_pdf(draft: Draft, facts: Facts) -> bytes:
    """Return a draft as the content of a PDF file with one page.

    Beside the pieces stand title, version, open conflicts in words, and a square to measure. Raises
    Misused when the draft is larger than a page can be.
    """
    seams = lettered(as_cut(draft))
    (column,) = flowed(column_blocks(facts, COLUMN, seams), math.inf)
    layout = lay_beside(to_print(draft), Rectangle(0.0, 0.0, COLUMN, column.height))
    drawing = on_area(layout, facts, (Layer.SEAM, Layer.CUTTING), seams)
    (place,) = layout.columns
    drawing += column.drawing.moved(Motion(shift=place))
    width, height = layout.paper.width, layout.paper.height or 0.0
    return written(facts, [Page(width, height, drawing, "")])
