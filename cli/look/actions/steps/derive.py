"""Derive a pattern, or a block, from a node."""

from collections.abc import Iterator

import msgspec

from trueup.cli.book.templating import page
from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.trying.became import TEMPLATES
from trueup.cli.look.trying.lines import told_draft
from trueup.cli.look.written import NodeAsked, Short
from trueup.lineage.files.records import ParentRecord


class AskedDerive(msgspec.Struct, forbid_unknown_fields=True):
    """What is to derive from a node, with all its pieces or some, and the version seen."""

    node: Short
    name: Short
    version: str
    pieces: list[Short] = []
    is_block: bool = False


@action("derive-form", NodeAsked)
def show_derive_form(desk: Desk, told: NodeAsked) -> Iterator[Line]:
    """Yield the fields of a new pattern; raises NoSuchNode."""
    pieces = told_draft(desk, told.node).piece_names
    yield {"html": str(page("derive_form.html", TEMPLATES, pieces=pieces))}


@action("derive", AskedDerive, Urgency.STEP)
def derive(desk: Desk, told: AskedDerive) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was shown."""
    parent = ParentRecord(told.node, tuple(told.pieces) or None)
    given = f"{told.node}:{','.join(told.pieces)}" if told.pieces else told.node
    words = ["derive", told.name, "--from", given, *(["--block"] if told.is_block else [])]
    yield record_seen(
        desk,
        told.version,
        lambda wardrobe: wardrobe.propose_child(told.name, [parent], is_block=told.is_block),
        desk.commands.line(*words),
    )
