"""A pattern on paper, handed over to be saved; nothing is written here."""

import base64
from collections.abc import Iterator
from pathlib import Path

import msgspec

from trueup.cli.book.lines import html_lines
from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.cli.look.written import Short, with_option
from trueup.cli.render.patterns.moved_pages import moved_lines
from trueup.cli.sheet.anew.pages import drawn_anew
from trueup.cli.sheet.anew.planning import planned_anew
from trueup.cli.sheet.document import composed, written
from trueup.cli.sheet.planning import planned
from trueup.cli.sheet.wanted import Wanted


class AskedSheet(msgspec.Struct, forbid_unknown_fields=True):
    """A node to print, and on which paper; or only what moved since a version of it."""

    node: Short
    paper: Short
    only_moved: bool = False
    since: Short = ""


@action("sheet", AskedSheet)
def print_sheet(desk: Desk, told: AskedSheet) -> Iterator[Line]:
    """Yield the PDF, the bytes as base64 (RFC 4648), and what is to be known of it.

    Without content where no line moved. Raises NoSuchNode, UnknownRevision, Misused, Damaged.
    """
    name = f"{told.node}.pdf"
    wanted = Wanted(told.node, told.paper, since=told.since or None, only_moved=told.only_moved)
    made = _moved(desk, wanted, name) if told.only_moved else _whole(desk, wanted)
    words = ["sheet", told.node, name, "--paper", told.paper]
    words = with_option(words, "--since", told.since)
    words += ["--only-moved"] if told.only_moved else []
    yield {"name": name, "command": desk.commands.line(*words), **made}


def _whole(desk: Desk, wanted: Wanted) -> Line:
    plan = planned(desk.wardrobe, desk.source.evaluator, wanted)
    return {"content": _carried(written(plan.facts, composed(plan).pages)), "says": ""}


def _moved(desk: Desk, wanted: Wanted, name: str) -> Line:
    plan = planned_anew(desk.wardrobe, desk.source.evaluator, wanted)
    pages = drawn_anew(plan.pages, plan.sheet)
    says = html_lines(moved_lines(plan, Path(name), desk.commands), desk.source.addresses)
    if not pages:
        return {"content": "", "says": str(says)}
    content = written(plan.sheet.facts, pages, plan.pages.of + len(plan.pages.layout.added))
    return {"content": _carried(content), "says": str(says)}


def _carried(content: bytes) -> str:
    return base64.b64encode(content).decode("ascii")
