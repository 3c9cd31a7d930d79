"""Record that cloth was cut from a pattern."""

import datetime
from collections.abc import Iterator

import msgspec

from trueup.cli.book.templating import page
from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.trying.became import TEMPLATES
from trueup.cli.look.written import NodeAsked, Short, with_option
from trueup.lineage.garments import cutting


class AskedCut(msgspec.Struct, forbid_unknown_fields=True):
    """A garment as it is said to be cut from a node, and the version it was seen at."""

    node: Short
    version: str
    name: Short = ""
    fabric: Short = ""
    wearer: Short = ""
    date: Short = ""
    stitched_down: list[Short] = []


@action("cut-form", NodeAsked)
def show_cut_form(desk: Desk, told: NodeAsked) -> Iterator[Line]:
    """Yield the fields of a garment; raises NoSuchNode."""
    desk.wardrobe.state.node(told.node)
    edges = desk.before(told.node).edge_names
    yield {"html": str(page("cut_form.html", TEMPLATES, edges=edges))}


@action("cut", AskedCut, Urgency.STEP)
def cut(desk: Desk, told: AskedCut) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was shown."""
    given = cutting.Cutting(
        *(told.node, told.name, told.fabric, told.wearer, told.date or None, told.stitched_down)
    )
    words = ["cut", told.node]
    for option in ("name", "fabric", "wearer", "date"):
        words = with_option(words, f"--{option}", getattr(told, option))
    for edge in told.stitched_down:
        words = with_option(words, "--stitched-down", edge)
    yield record_seen(
        desk,
        told.version,
        lambda wardrobe: cutting.cut(wardrobe, given, datetime.date.today()),
        desk.commands.line(*words),
    )
