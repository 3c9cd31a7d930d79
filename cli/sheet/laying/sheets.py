"""Which page shows which sheet of the pattern, and what moved since another version."""

from dataclasses import dataclass

from trueup.cli.sheet.laying.layout import Layout
from trueup.cli.sheet.laying.tiles import Tile
from trueup.geometry.comparing.difference import Difference


@dataclass(frozen=True)
class Sheets:
    """A layout over several sheets, and the page that shows the first of them."""

    layout: Layout
    first_page: int

    def page_of(self, tile: Tile) -> int:
        """Return the number of the page that shows a sheet; those added come after the others."""
        return self.first_page + (*self.layout.tiles, *self.layout.added).index(tile)

    def pages_of(self, piece: str) -> tuple[int, ...]:
        """Return the pages that show a part of a piece."""
        pages = enumerate(self.layout.tiles, start=self.first_page)
        return tuple(page for page, tile in pages if piece in self.layout.shown_on(tile))


@dataclass(frozen=True)
class Moved:
    """What is not as in another version: `since` names it, `new` and `gone` are pieces."""

    since: str
    difference: Difference
    new: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()
