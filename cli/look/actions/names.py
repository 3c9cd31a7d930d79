"""Everything that has a name and a page, for finding it."""

from collections.abc import Iterator

from trueup.cli.book.addresses import named
from trueup.cli.look.acting import NothingTold, action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line


@action("names", NothingTold)
def list_names(desk: Desk, told: NothingTold) -> Iterator[Line]:  # noqa: ARG001
    """Yield the names, each with its address."""
    yield {"names": list(named(desk.source.state))}
