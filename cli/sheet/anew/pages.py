"""Which pages of an earlier sheet are printed anew, and how they are drawn. Lengths in mm."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from trueup.cli.sheet.anew.kept_places import kept_places
from trueup.cli.sheet.document import Page, Sheet, covered_sheet, pages_of
from trueup.cli.sheet.laying.drawn_on import drawn_on
from trueup.cli.sheet.laying.layout import Layout
from trueup.cli.sheet.laying.sheets import Sheets
from trueup.cli.sheet.laying.tiles import Tile
from trueup.geometry.pieces.piece import Piece

_SAME = 1e-6


@dataclass(frozen=True)
class MovedPages:
    """The pages of an earlier sheet on which a line has moved since, called as they are there.

    `layout` has the pieces of today where those of the earlier sheet lie; pages it did not have are
    numbered after its own `of`. On such pages lies what is printed `anew`, for it is new or has no
    room in its old place; the pieces `gone` are of the earlier sheet alone.
    """

    layout: Layout
    tiles: tuple[Tile, ...]
    first_page: int
    of: int
    anew: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()

    @property
    def numbers(self) -> tuple[int, ...]:
        """Return the numbers of the pages."""
        sheets = Sheets(self.layout, self.first_page)
        return tuple(sheets.page_of(tile) for tile in self.tiles)

    @property
    def names(self) -> tuple[str, ...]:
        """Return what the pages are called, as in 7 (B3)."""
        named = zip(self.numbers, self.tiles, strict=True)
        return tuple(f"{number} ({tile.place})" for number, tile in named)

    @property
    def is_none(self) -> bool:
        """Return whether the earlier sheet is as good as a new one."""
        return not self.tiles and not self.gone

    @property
    def added(self) -> tuple[str, ...]:
        """Return what those of the pages are called that the earlier sheet does not have."""
        there = self.layout.added
        return tuple(n for n, tile in zip(self.names, self.tiles, strict=True) if tile in there)


def moved_pages(old: Sheet, new: Sheet, before: Mapping[str, Piece]) -> MovedPages:
    """Return which pages of a sheet show a line that lies elsewhere in another version.

    `before` has the pieces of the old sheet by the names they have in the new one. Raises Misused
    for a paper that is too small.
    """
    sheet = covered_sheet(old)
    layers = new.layers
    kept = kept_places(sheet.layout, new.pieces, before, layers)
    layout = kept.layout
    lines = [
        stroke.moved(laid.motion)
        for laid in layout.pieces
        if laid.piece.name not in kept.anew
        for stroke in (*laid.lines.former, *laid.lines.redrawn)
    ]
    moved = drawn_on(layout.tiles, lines)
    standing = {id(before[each.piece.name]) for each in new.pieces if each.piece.name in before}
    gone = tuple(p.piece.name for p in old.pieces if id(p.piece) not in standing)
    count = sheet.first_page - 1 + len(layout.tiles)
    return MovedPages(layout, (*moved, *layout.added), sheet.first_page, count, kept.anew, gone)


def is_laid_out_alike(found: MovedPages, new: Sheet) -> bool:
    """Return whether a whole sheet of today has all on the same pages as the earlier one."""
    whole = covered_sheet(new)
    if found.layout.added or whole.layout.tiles != found.layout.tiles:
        return False
    if whole.first_page != found.first_page:
        return False
    pairs = zip(whole.layout.pieces, found.layout.pieces, strict=True)
    motions = ((one.motion, other.motion) for one, other in pairs)
    return all(
        abs(one.shift - other.shift) < _SAME and abs(one.rotation - other.rotation) < _SAME
        for one, other in motions
    )


def drawn_anew(found: MovedPages, new: Sheet) -> tuple[Page, ...]:
    """Return those pages as they are drawn, with the old lines dotted; no cover goes with them."""
    pages = pages_of(new, found.layout, found.first_page)
    wanted = {*found.numbers}
    since = f"moved since version {new.moved.since}" if new.moved else ""
    return tuple(
        replace(page, name="  |  ".join(each for each in (page.name, since) if each))
        for page in pages
        if page.number in wanted
    )
