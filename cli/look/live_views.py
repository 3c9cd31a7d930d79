"""Every page by its address: those of the book, and those that only a live page has."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from trueup.cli.book.views import View, view
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.tracing.trace_page import trace_page
from trueup.cli.look.trying.try_page import style_page, try_page

_LIVE: Mapping[str, Callable[[Desk, str], View]] = MappingProxyType(
    {"try": try_page, "style": style_page, "trace": trace_page}
)


def live_view(desk: Desk, address: str) -> View:
    """Return the page of an address.

    Raises LookupError for an address of no page, and what the page raises for a name of nothing.
    """
    kind, _, name = address.partition("/")
    return _LIVE[kind](desk, name) if kind in _LIVE else view(desk.source, address)
