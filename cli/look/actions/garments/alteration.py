"""What can be done on a garment's cloth, or could if a fitting were made; nothing is written."""

from collections.abc import Iterator
from typing import Annotated

import msgspec

from trueup.cli.book.figures import figure_of_pieces
from trueup.cli.book.lines import html_lines
from trueup.cli.book.templating import page
from trueup.cli.look.acting import USUAL_SIZE, action
from trueup.cli.look.actions.garments.garment_forms import GarmentAsked
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.cli.look.trying.became import TEMPLATES
from trueup.cli.look.written import Short, with_option
from trueup.cli.options.garment_words import narrowest_allowance
from trueup.cli.pictures.cloth import alteration_pictures
from trueup.cli.render.garments.alteration import alteration_lines
from trueup.geometry.cloth.cut_cloth import LEAST
from trueup.lineage.files import graph
from trueup.lineage.garments.alteration import asked_of
from trueup.lineage.garments.as_if import as_if_fitted
from trueup.lineage.limits import LARGEST_FITTING

FITTING = "the fitting"
"""What a fitting is called that was handed over: it has no name here."""

_NUMBER = 800  # of its figure, beside those of the page the form stands on


class AskedAlteration(msgspec.Struct, forbid_unknown_fields=True):
    """A garment, the narrowest seam allowance, and a fitting that is not made, for which node."""

    garment: Short
    least: Short = ""
    fitting: Annotated[str, msgspec.Meta(max_length=LARGEST_FITTING)] = ""
    on: Short = ""


@action("alter-form", GarmentAsked)
def show_alter_form(desk: Desk, told: GarmentAsked) -> Iterator[Line]:
    """Yield the fields that ask what can be done; raises NoSuchGarment."""
    state = desk.wardrobe.state
    pattern = state.garment(told.garment).pattern
    above = graph.fit_above(state.nodes, pattern) if pattern in state.nodes else ()
    nodes = [pattern, *(each for each in state.in_order if each in above and each != pattern)]
    html = page(
        "alter_form.html",
        TEMPLATES,
        nodes=nodes,
        unit=desk.source.unit.value,
        largest=LARGEST_FITTING,
        too_large=f"That file is larger than {LARGEST_FITTING // 1_000_000} MB: no fitting is.",
    )
    yield {"html": str(html)}


@action("alter", AskedAlteration, largest=2 * LARGEST_FITTING + USUAL_SIZE)
def tell_alteration(desk: Desk, told: AskedAlteration) -> Iterator[Line]:
    """Yield what can be done as pictures and lines, and the command that tells the same."""
    unit = desk.source.unit
    least = narrowest_allowance(told.least, unit) if told.least else LEAST
    is_preview = bool(told.fitting)
    after = None
    if is_preview:
        content = told.fitting.encode()
        state = as_if_fitted(desk.wardrobe, told.garment, FITTING, content, told.on or None)
        after = desk.wardrobe.evaluator_of(state)
    asked = asked_of(desk.wardrobe, told.garment, least, after)
    found = asked.answer()
    drawn = alteration_pictures(asked, found, unit, is_preview=is_preview)
    title = f"The cloth of {told.garment}"
    picture = figure_of_pieces(drawn.pieces, _NUMBER, title, drawn.key)
    lines = alteration_lines(found, unit, desk.commands, is_preview=is_preview, numbered=True)
    words = with_option(["alter", told.garment], "--least", told.least)
    if is_preview:
        words = with_option([*words, "--from", "FILE"], "--on", told.on)
    yield {
        "html": f"{picture}\n{html_lines(lines, desk.source.addresses)}",
        "command": desk.commands.line(*words),
    }
