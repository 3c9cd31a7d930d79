"""Every page of a book by its address: what a document holds, and what a server would answer."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from markupsafe import Markup

from trueup.cli.book.addresses import (
    CONFLICTS,
    FAULTS,
    GARMENTS,
    HISTORY,
    SINGLE,
    START,
    correction,
    named,
)
from trueup.cli.book.pages.conflict_page import conflict_page, titled
from trueup.cli.book.pages.correction_page import correction_page, correction_title
from trueup.cli.book.pages.node_page import node_page
from trueup.cli.book.pages.start.start_page import start_page
from trueup.cli.book.pages.wardrobe_pages import (
    conflicts_page,
    history_page,
)
from trueup.cli.book.pages.worn.garment_page import garment_page
from trueup.cli.book.pages.worn.worn_pages import faults_page, garments_page
from trueup.cli.book.source import BookSource

_SINGLE: Mapping[str, Callable[[BookSource], Markup]] = MappingProxyType(
    {
        START: start_page,
        CONFLICTS: conflicts_page,
        GARMENTS: garments_page,
        FAULTS: faults_page,
        HISTORY: history_page,
    }
)
_NAMED: Mapping[str, Callable[[BookSource, str], Markup]] = MappingProxyType(
    {
        "block": node_page,
        "pattern": node_page,
        "garment": garment_page,
        "conflict": conflict_page,
        "correction": correction_page,
    }
)
_TITLES: Mapping[str, Callable[[BookSource, str], str]] = MappingProxyType(
    {"conflict": titled, "correction": correction_title}
)


@dataclass(frozen=True)
class View:
    """One page: its address, its title, and what stands on it."""

    address: str
    title: str
    content: Markup


def all_addresses(source: BookSource) -> Iterator[str]:
    """Yield the address of every page there is, in the order of a book."""
    yield from SINGLE
    yield from (address for _, address in named(source.state))
    yield from (correction(commit) for commit in source.corrections)


def view(source: BookSource, address: str) -> View:
    """Return the page of an address.

    Raises LookupError for an address of no page, and what the page raises for a name of nothing.
    """
    if address in _SINGLE:
        return View(address, SINGLE[address], _SINGLE[address](source))
    kind, _, name = address.partition("/")
    if kind not in _NAMED:
        raise LookupError(f"no page at {address}")
    title = _TITLES[kind](source, name) if kind in _TITLES else name
    return View(address, title, _NAMED[kind](source, name))
