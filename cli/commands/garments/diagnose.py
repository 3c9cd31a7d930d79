"""trueup diagnose: from what is seen on a garment to what to check, and what may mend it."""

from typing import Annotated, Any

import typer

from trueup.cli.failures import DAMAGED, Misused
from trueup.cli.hints import error_sentence
from trueup.cli.json import diagnosis as json_diagnosis
from trueup.cli.opening import OpenToRead, reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.options.made import plain
from trueup.cli.options.symptom_help import SymptomCommand
from trueup.cli.page import note as note_beside
from trueup.cli.page import said, show
from trueup.cli.render.garments.diagnosis import diagnosis_lines
from trueup.geometry.errors import NoSuchName
from trueup.geometry.units import parse_length
from trueup.lineage.diagnosis.diagnose import Diagnosis, diagnose_note
from trueup.lineage.diagnosis.diagnose import diagnose as diagnosed
from trueup.lineage.garments.notes import find_note


def garments_and_nodes(ctx: typer.Context, incomplete: str) -> list[str]:
    """Offer the names of garments, blocks and patterns."""
    return [*completion.garments(ctx, incomplete), *completion.nodes(ctx, incomplete)]


def diagnose(
    name: Annotated[
        str,
        typer.Argument(
            metavar="GARMENT|PATTERN",
            help="Name of a garment, or of a block or pattern.",
            autocompletion=garments_and_nodes,
        ),
    ],
    symptom: Annotated[
        str | None,
        typer.Argument(
            metavar="SYMPTOM",
            help="What is seen, such as armhole-binds; the open fit notes unless given.",
            autocompletion=completion.symptoms,
        ),
    ] = None,
    note: Annotated[
        str | None,
        typer.Option(
            "--note",
            metavar="NOTE",
            help="The id of one fit note to diagnose.",
            show_default=False,
            autocompletion=completion.notes,
        ),
    ] = None,
    place: Annotated[
        str | None,
        typer.Option(
            "--place",
            metavar="PLACE",
            help="Where it is seen: an edge such as front.armhole, or a level such as bust.",
            show_default=False,
        ),
    ] = None,
    amount: Annotated[
        str | None,
        typer.Option(
            "--amount",
            metavar="LENGTH",
            help="How much is wrong, on the half pattern; the least usual amount unless given.",
            show_default=False,
        ),
    ] = None,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Say what to check for a symptom, in order, and what correction may mend it.

    The shoulder comes first, because the garment hangs from it. Each check is read against the
    pattern at hand: what it measures now, beside its block, beside the cloth as it was cut, and
    beside siblings nobody complains of. It proposes commands to try, where the fault
    lies; it decides nothing. `other` lists what there is to look at in general. Exits with 3 when
    the version that a garment was cut from cannot be read; then nothing is set beside the cloth.
    """
    if symptom and note:
        raise Misused("Give a symptom or the id of a fit note with --note, not both.")
    with reading(folder, as_json=as_json) as wardrobe:
        node, found = _diagnoses(wardrobe, name, symptom, note, place, amount)
        unit, commands = wardrobe.state.unit, wardrobe.commands
    if as_json:
        wardrobe.write(json_diagnosis.diagnoses(name, node, found, commands))
    else:
        if not found:
            asks = "name a symptom to ask what it may come from"
            show(said(f"No fit note is open on {name}; {asks}."))
        for index, each in enumerate(found):
            show(*([""] if index else []), *diagnosis_lines(each, unit, commands))
    not_read = {
        each.garment.name: each.not_read for each in found if each.garment and each.not_read
    }
    if not wardrobe.gaps:
        for garment, error in not_read.items():
            why = error_sentence(error, unit)
            note_beside(f"{garment} is not set beside the cloth as it was cut. {why}")
    return DAMAGED if not_read else 0


def _diagnoses(
    wardrobe: "OpenToRead",
    name: str,
    symptom: str | None,
    note_id: str | None,
    place: str | None,
    amount: str | None,
) -> "tuple[str, list[Diagnosis]]":
    """Return the node that is read, and a diagnosis of the symptom or of each note meant."""
    state, evaluator = wardrobe.state, wardrobe.evaluator
    seen = None if amount is None else parse_length(amount, state.unit)
    if seen is not None and seen <= 0:
        raise Misused("Give how much is wrong as an amount above 0.")
    garment = state.garments.get(name)
    if garment is None and name not in state.nodes:
        state.require_readable(name)
        raise NoSuchName(
            "garment, block or pattern", name, "this wardrobe", (*state.garments, *state.nodes)
        )
    node = garment.pattern if garment else name
    state.node(node)
    if symptom:
        return node, [diagnosed(evaluator, node, symptom, place, seen, garment)]
    if note_id:
        owner, note = find_note(state, note_id)
        if name not in (owner.name, owner.pattern):
            raise Misused(f"{note_id} is a fit note of {owner.name}, not of {name}.")
        return node, [diagnose_note(evaluator, owner, note, place, seen)]
    owners = [garment] if garment else [g for g in state.garments.values() if g.pattern == node]
    pairs = [(owner, note) for owner in owners for note in owner.open_notes]
    return node, [diagnose_note(evaluator, owner, note, place, seen) for owner, note in pairs]


def verb() -> Any:
    """Return the verb with the symptoms on its help page."""
    return plain(diagnose, SymptomCommand)
