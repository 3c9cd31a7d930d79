"""Where the cover of a sheet lies that is spread over pages: on those of the pattern, if it can.

It stands on the first pages of the first row, the pieces below and beside it, so that no page is
spent on words alone. Lengths in mm.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.sheet.ink.blocks import Block, flowed, parted
from trueup.cli.sheet.laying.layout import CLEAR, GAP, Layout, ToPrint, lay_out
from trueup.cli.sheet.laying.paper import Paper
from trueup.cli.sheet.laying.sheets import Sheets
from trueup.cli.sheet.laying.tiles import OVERLAP

_STEP = 20.0
"""The cover is as high as so many steps, so that a line more moves no piece."""

_MOST = 4
"""The cover stands on so many pages at most."""

Cover = Callable[[Sheets], Iterable[Block]]
"""The blocks of a cover, which names the pages of a layout."""


@dataclass(frozen=True)
class Covered:
    """Pieces over pages, and the columns of the cover: among them, or `apart` on pages before."""

    layout: Layout
    columns: tuple[Block, ...]
    apart: bool

    @property
    def first_page(self) -> int:
        """Return the number of the first page of the pattern."""
        return len(self.columns) + 1 if self.apart else 1

    @property
    def cost(self) -> tuple[int, int]:
        """Return how many pages show no piece, and how many there are."""
        tiles, covers = self.layout.tiles, self.first_page - 1
        bare = sum(not self.layout.shown_on(tile) for tile in tiles)
        return bare + covers, len(tiles) + covers


def column_width(paper: Paper) -> float:
    """Return how wide a column of the cover is: it keeps clear of where pages are glued."""
    return paper.drawn_width - 2 * (OVERLAP + CLEAR)


def covered_with(pieces: Sequence[ToPrint], paper: Paper, cover: Cover, draft: Cover) -> Covered:
    """Return the pieces and the cover on the fewest pages, best on none without a piece.

    `draft` is the cover as it takes up room whether something is open or not: so the pieces go on
    lying where they lie when something is. Raises Misused for a paper that is too small.
    """
    bare = lay_out(pieces, paper)
    among = _among(pieces, paper, cover, list(draft(Sheets(bare, 1))))
    best = min(among, key=lambda each: each.cost, default=None)
    if best is not None and best.cost[0] == 0:
        return best
    apart = _apart(bare, paper, cover)
    return apart if best is None or apart.cost < best.cost else best


def _apart(layout: Layout, paper: Paper, cover: Cover) -> Covered:
    # The cover names pages, so it is flowed once to learn how many pages it takes itself.
    pages = len(flowed(cover(Sheets(layout, 2)), paper.drawn_height))
    columns = flowed(cover(Sheets(layout, pages + 1)), paper.drawn_height)
    return Covered(layout, tuple(columns), apart=True)


def _among(
    pieces: Sequence[ToPrint], paper: Paper, cover: Cover, usual: Sequence[Block]
) -> Iterator[Covered]:
    """Yield layouts whose cover stands on so many pages; nothing where it is too high for them."""
    highest = paper.drawn_height - OVERLAP - GAP
    for count in range(1, _MOST + 1):
        height = _height(usual, count, highest)
        while height is not None and height <= highest:
            room = Rectangle(0.0, 0.0, column_width(paper), height)
            layout = lay_out(pieces, paper, [room] * count)
            columns = flowed(cover(Sheets(layout, 1)), height)
            if _fit([each.height for each in columns], count, height):
                yield Covered(layout, tuple(columns), apart=False)
                break
            height += _STEP


def _height(blocks: Sequence[Block], count: int, highest: float) -> float | None:
    """Return the least height at which blocks take no more than so many columns."""
    steps = (n * _STEP for n in range(1, int(highest / _STEP) + 1))
    for high in steps:
        columns = [sum(block.height for block in each) for each in parted(blocks, high)]
        if _fit(columns, count, high):
            return high
    return None


def _fit(heights: Sequence[float], count: int, height: float) -> bool:
    return len(heights) <= count and max(heights) <= height
