"""A page of the book, as the wardrobe is now."""

from collections.abc import Iterator

import msgspec

from trueup.cli.book.views import view
from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line


class Address(msgspec.Struct, forbid_unknown_fields=True):
    """Where in the book something is told."""

    address: str


@action("view", Address)
def show_view(desk: Desk, told: Address) -> Iterator[Line]:
    """Yield the page of an address; `none` where there is none."""
    try:
        made = view(desk.source, told.address)
    except LookupError:
        yield {"none": True}
        return
    yield {"title": made.title, "content": str(made.content), "version": desk.version}
