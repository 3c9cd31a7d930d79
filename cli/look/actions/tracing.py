"""Make a block of a drawing: look it over, name its lines, and record it."""

from collections.abc import Iterator
from typing import Annotated

import msgspec

from trueup.cli.failures import Misused
from trueup.cli.look.acting import action
from trueup.cli.look.drawing_at_hand import DrawingAtHand
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.tracing.asked import LARGEST, AskedDrawing
from trueup.cli.look.tracing.looked import handed_over, told_of
from trueup.cli.look.written import Short
from trueup.lineage.drawings.proposing.bringing_in import (
    draft_as_stated,
    look_at_shapes,
    stated_in,
)
from trueup.lineage.drawings.tracing.drafting import DraftDrawn
from trueup.lineage.limits import LARGEST_RECORD


class AskedTrace(AskedDrawing, forbid_unknown_fields=True, frozen=True, kw_only=True):
    """A block to make of a drawing, and the version it was named on.

    `text` states what its lines are, as a file of names does; without it the drawing says so.
    """

    node: Short
    version: str
    text: Annotated[str, msgspec.Meta(max_length=LARGEST_RECORD)] = ""


@action("trace-look", AskedDrawing, Urgency.TRIAL, largest=LARGEST)
def look_over_drawing(desk: Desk, told: AskedDrawing) -> Iterator[Line]:
    """Yield what the lines of a drawing are taken for; `again` where it is not at hand any more."""
    drawing = _at_hand(desk, told)
    if drawing is None:
        yield {"again": True}
        return
    yield told_of(drawing, told, desk.source.unit)


@action("trace", AskedTrace, Urgency.STEP, largest=LARGEST)
def trace_drawing(desk: Desk, told: AskedTrace) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was shown."""
    drawing = _at_hand(desk, told)
    if drawing is None:
        raise Misused("That drawing is not at hand any more; choose its file again.")
    drawn = _drawn(drawing, told)
    names = ["--names", f"{told.node}-names.toml"] if told.text else []
    yield record_seen(
        desk,
        told.version,
        lambda wardrobe: wardrobe.propose_trace(told.node, drawn.draft, told.file),
        desk.commands.line(*told.words(told.node), *names),
    )


def _at_hand(desk: Desk, told: AskedDrawing) -> DrawingAtHand | None:
    """Return the last drawing that was handed over if it is this one, or this one if it is now."""
    if desk.drawing and desk.drawing.known == told.known:
        return desk.drawing
    if not told.content:
        return None
    desk.drawing = handed_over(told)
    return desk.drawing


def _drawn(drawing: DrawingAtHand, told: AskedTrace) -> DraftDrawn:
    if drawing.own is not None and not told.text:
        return drawing.own
    stated = stated_in(told.text.encode(), f"{told.node}-names.toml")
    looked = look_at_shapes(drawing.page, told.file, {}, told.lengths, stated, over=told.over)
    return draft_as_stated(looked, told.file)
