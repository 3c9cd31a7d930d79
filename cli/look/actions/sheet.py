"""A pattern on paper, handed over to be saved; nothing is written here."""

import base64
from collections.abc import Iterator

import msgspec

from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.cli.look.written import Short
from trueup.cli.sheet.document import composed, written
from trueup.cli.sheet.planning import planned
from trueup.cli.sheet.wanted import Wanted


class AskedSheet(msgspec.Struct, forbid_unknown_fields=True):
    """A node to print, and on which paper."""

    node: Short
    paper: Short


@action("sheet", AskedSheet)
def print_sheet(desk: Desk, told: AskedSheet) -> Iterator[Line]:
    """Yield the PDF, the bytes as base64 (RFC 4648); raises NoSuchNode, Misused, Damaged."""
    plan = planned(desk.wardrobe, desk.source.evaluator, Wanted(told.node, told.paper))
    content = written(plan.facts, composed(plan).pages)
    name = f"{told.node}.pdf"
    yield {
        "name": name,
        "content": base64.b64encode(content).decode("ascii"),
        "command": desk.commands.line("sheet", told.node, name, "--paper", told.paper),
    }
