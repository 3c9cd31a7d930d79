"""Which kinds of change can act on a line that was picked."""

from collections.abc import Iterator

import msgspec

from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.cli.look.trying.lines import picked_line
from trueup.cli.plain.help_pages import first_sentence
from trueup.geometry.changes import kind_named


class PickedLine(msgspec.Struct, forbid_unknown_fields=True):
    """A line of a node, as `piece.edge`."""

    node: str
    line: str


@action("kinds", PickedLine)
def list_kinds(desk: Desk, told: PickedLine) -> Iterator[Line]:
    """Yield the kinds, each with what it does in one sentence, and whether it is meant for it."""
    yield {
        "kinds": [
            [each.kind, first_sentence(kind_named(each.kind).__doc__ or ""), each.is_meant]
            for each in picked_line(desk, told.node, told.line)
        ]
    }
