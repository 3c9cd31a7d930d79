"""Bind a book: make every page, and write them to one file."""

from collections.abc import Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from trueup.cli.atomic_file import require_new, write_new
from trueup.cli.book.document import document
from trueup.cli.book.making import leaves
from trueup.cli.book.source import BookSource
from trueup.cli.book.views import all_addresses
from trueup.cli.failures import Misused
from trueup.cli.opening import OpenToRead
from trueup.cli.terminal.waiting import waiting
from trueup.lineage.evaluation.lanes import cores
from trueup.lineage.limits import LARGEST_BOOK

_SUFFIXES = (".html", ".htm")


@dataclass(frozen=True)
class Bound:
    """A book that was written: where, how many pages it has, and its size in bytes."""

    file: Path
    pages: int
    size: int


def bound(
    reading: OpenToRead,
    file: Path | None,
    versions: int,
    *,
    replace: bool,
    processes: int | None = None,
    silent: bool = False,
) -> Bound:
    """Write the book of a wardrobe, with so many versions of each node.

    Its pages are made by so many processes; unless given, by as many as this machine has cores.
    A terminal is told how far it is, unless it is to be `silent`.
    Raises Misused for a file that may not be written, before any page is made; OSError.
    """
    place = file or Path(f"{_file_name(reading.state.settings.name)}.html")
    if place.suffix.lower() not in _SUFFIXES:
        raise Misused(f"{place} is not named as a book; call it {place.stem or 'NAME'}.html.")
    require_new(place, replace=replace)
    source = BookSource(reading, versions)
    addresses = tuple(all_addresses(source))
    pages = len(addresses)
    with waiting("pages", silent=silent) as tell:
        made = leaves(source, addresses, processes or cores(), lambda done: tell(done, pages))
        with closing(made):
            parts = _few_enough(document(source, made))
            return Bound(place, pages, write_new(place, parts, replace=replace))


def _few_enough(parts: Iterable[str]) -> Iterator[bytes]:
    size = 0
    for part in parts:
        written = part.encode("utf-8")
        size += len(written)
        if size > LARGEST_BOOK:
            raise Misused(
                f"The book would be larger than {LARGEST_BOOK // 1_000_000} MB, which no browser "
                "opens; take out photos, or make a book of fewer versions with --versions."
            )
        yield written


def _file_name(wardrobe: str) -> str:
    """Return a name for a file from the wardrobe's, which may be any text."""
    kept = "".join(letter if letter.isalnum() else "-" for letter in wardrobe).strip("-")
    return kept[:60] or "wardrobe"
