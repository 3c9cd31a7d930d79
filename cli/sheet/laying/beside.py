"""Lay pieces beside a column on one page, as large as they need. Lengths in mm."""

from collections.abc import Sequence

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.failures import Misused
from trueup.cli.sheet.laying.layout import GAP, Layout, ToPrint, laid_out
from trueup.cli.sheet.laying.packing import Box, packed
from trueup.cli.sheet.laying.paper import FOOTER, LONGEST, MARGIN, Paper
from trueup.cli.sheet.laying.tiles import Tile
from trueup.geometry.said import said

_COLUMN = "the column beside the pieces"


def lay_beside(printed: Sequence[ToPrint], column: Rectangle) -> Layout:
    """Return the pieces beside each other and a column, on one page as large as they need.

    Where a page cannot be as wide, they lie in several rows. Raises Misused when no page of a PDF
    can hold them.
    """
    most = Paper("one page of a PDF", LONGEST)
    boxes = [Box(_COLUMN, column.width, column.height, at_side=True), *(p.box for p in printed)]
    for box in boxes:
        if max(box.width - most.drawn_width, box.height - most.drawn_height) > 0:
            raise _TooLarge(box.name, box.width, box.height)
    beside = sum(box.width + GAP for box in boxes) - GAP
    packing = packed(boxes, min(beside, most.drawn_width), GAP, most.name)
    if packing.height > most.drawn_height:
        raise _TooLarge("this pattern", packing.width, packing.height)
    page = Paper(most.name, packing.width + 2 * MARGIN, packing.height + 2 * MARGIN + FOOTER)
    return Layout(
        page,
        packing.width,
        packing.height,
        laid_out(printed, packing),
        (Tile(1, 1, page.window),),
        (packing.places[_COLUMN],),
    )


class _TooLarge(Misused):
    """More than a page of a PDF can hold; its text is the whole sentence."""

    def __init__(self, name: str, width: float, height: float) -> None:
        sizes = {"width": width, "height": height, "most": LONGEST}
        super().__init__(said("no-room-on-page", piece=name, **sizes))
