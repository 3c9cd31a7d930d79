"""The controls of a kind of change, on a line that was picked or on none."""

from collections.abc import Iterator

import msgspec

from trueup.cli.book.templating import page
from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.cli.look.trying.became import TEMPLATES
from trueup.cli.look.trying.controls import controls
from trueup.cli.look.trying.lines import picked_line, told_draft
from trueup.cli.look.written import Short
from trueup.cli.plain.help_pages import first_sentence
from trueup.geometry.changes import kind_named


class PickedKind(msgspec.Struct, forbid_unknown_fields=True):
    """A kind of change for a line of a node; the line is empty where none is picked."""

    node: Short
    line: Short
    kind: Short


@action("form", PickedKind)
def show_form(desk: Desk, told: PickedKind) -> Iterator[Line]:
    """Yield the controls as HTML, places filled in by the line; raises NoSuchName."""
    cls, unit = kind_named(told.kind), desk.wardrobe.state.unit
    acting = picked_line(desk, told.node, told.line) if told.line else ()
    acts = {each.kind: each.places for each in acting}
    draft = told_draft(desk, told.node)
    found = controls(cls, draft, acts.get(told.kind, {}), unit)
    first = [each for each in found if each.required or each.start != each.default]
    html = page(
        "form.html",
        TEMPLATES,
        says=first_sentence(cls.__doc__ or ""),
        first=first,
        other=[each for each in found if each not in first],
        unit=unit.value,
    )
    yield {"html": str(html)}
