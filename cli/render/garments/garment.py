"""Garments and fit notes on the page."""

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from rich.console import RenderableType
from rich.padding import Padding

from trueup.cli.amounts import length
from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.render.steps import what_and_amounts
from trueup.cli.render.table import PlainTable
from trueup.cli.wording.seen import seen_in_words
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.files.garment_records import FitNote, GarmentRecord, NotedSide
from trueup.lineage.files.records import Role
from trueup.lineage.files.state import State
from trueup.lineage.garments.since import Fate, Since, dropped_since

if TYPE_CHECKING:
    from trueup.lineage.garments.filing import Filing


def filed_lines(filing: "Filing", commit: str) -> Iterator[RenderableType]:
    """Yield what a step on a garment recorded."""
    yield said(filing.says, "bold")
    yield said(f"Recorded as {commit[:10]}.")


def cut_lines(
    garment: GarmentRecord, commit: str, unit: Unit, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield a garment that was just cut, and what comes next."""
    yield said(f"Cut {garment.name} from {garment.pattern}", "bold")
    yield said(f"Recorded as {commit[:10]}; its outline is in {garment.outline_path}.")
    yield from _facts(garment, unit)
    yield ""
    yield said("Next, when it has been worn, note what is seen:")
    yield command(commands.line("note", garment.name, "SYMPTOM", "--place", "PIECE.EDGE"))


def noted_lines(
    filing: "Filing", commit: str, unit: Unit, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield a fit note that was just written down, and what comes next."""
    yield from filed_lines(filing, commit)
    if filing.note is not None:
        yield from _note_lines(filing.note, unit, ())
        yield ""
        yield said("Next, see what to check, and what may mend it:")
        yield command(commands.line("diagnose", filing.garment.name, "--note", filing.note.id))


def garment_list(
    found: Sequence[GarmentRecord], state: State, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield garments as a table, and how to look at the first with something open."""
    if not found:
        readable = " of those that can be read" if state.unreadable_garments else ""
        yield said(f"No such garment{readable} was cut.")
        return
    heads = ("garment", "pattern", "wearer", "cut on", "status", "open notes")
    yield PlainTable(heads, [_row(each, state) for each in found])
    waiting = [each.name for each in found if each.open_notes]
    if waiting:
        yield ""
        yield said("Next, look at one that fits ill:")
        yield command(commands.line("garment", waiting[0]))


def _row(garment: GarmentRecord, state: State) -> tuple[str, ...]:
    gone = "" if garment.pattern in state.nodes else " (deleted since)"
    if garment.pattern in state.lost_nodes:
        gone = " (cannot be read)"
    notes = ", ".join(seen_in_words(n.symptom, n.place) for n in garment.open_notes)
    return (
        garment.name,
        f"{garment.pattern}{gone}",
        garment.wearer or "-",
        garment.cut_on.isoformat(),
        garment.status.value,
        f"{len(garment.open_notes)}: {notes}" if notes else "none",
    )


def garment_lines(
    garment: GarmentRecord, became: Since, state: State, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield all there is to say of one garment."""
    yield said(f"{garment.name}: {garment.status}", "bold")
    version = garment.cut_from[:10]
    yield said(f"cut from {garment.pattern}, version {version}, on {garment.cut_on.isoformat()}")
    if garment.altered_to:
        yield said(f"altered to {garment.pattern} as of version {garment.altered_to[:10]}")
    yield from _facts(garment, state.unit)
    yield said(worded(became.says, state.unit))
    for block in became.blocks:
        told = ", ".join(each.words for each in block.measurements)
        yield said(f"{block.node} was drafted anew: {told}")
    if became.steps:
        heads = ("what", "with", "of", "made as", "since", "step")
        rows = (
            (what, made_with or "-", e.node, e.step.role.value, e.how, e.step.id)
            for e in became.steps
            for what, made_with in (what_and_amounts(e.step, state.unit),)
        )
        yield PlainTable(heads, rows)
    if became.fate is Fate.CHANGED:
        yield said("What of it can still be done on the cloth:")
        yield command(commands.line("alter", garment.name))
    yield ""
    yield said("Fit notes" if garment.notes else "Nothing is noted on it.", "bold")
    for note in garment.notes:
        yield said(f"{seen_in_words(note.symptom, note.place)} ({note.id})")
        yield from _note_lines(note, state.unit, dropped_since(state, note))
    made = [each.step.id for each in became.corrections if each.step.role is Role.CORRECTION]
    made += [each for block in became.blocks for each in block.made]
    if garment.open_notes and made:
        yield ""
        yield said("If a correction made since mends a note, say so:")
        yield command(commands.line("resolve", garment.open_notes[0].id, "--by", made[-1]))
    elif garment.open_notes:
        yield ""
        yield said("Next, see what to check, and what may mend it:")
        yield command(commands.line("diagnose", garment.name))


def _facts(garment: GarmentRecord, unit: Unit) -> Iterator[RenderableType]:
    for name, value in (("fabric", garment.fabric), ("wearer", garment.wearer)):
        if value:
            yield said(f"{name} {value}")
    if garment.allowances:
        yield said(f"allowances {', '.join(allowances_in_words(garment, unit))}")
    else:
        yield said("no seam allowance: the pattern it was cut from has none")
    if garment.lacking:
        lacks = (f"{edge} {length(mm, unit)}" for edge, mm in garment.lacking.items())
        yield said(f"cloth lacked when it was altered: {', '.join(lacks)}")
    if garment.stitched_down:
        yield said(f"stitched down {', '.join(garment.stitched_down)}")


def allowances_in_words(garment: GarmentRecord, unit: Unit) -> Iterable[str]:
    """Return each allowance a garment was cut with, and the lines that have it."""
    by_amount: dict[float, list[str]] = {}
    for edge, amount in garment.allowances.items():
        by_amount.setdefault(amount, []).append(edge)
    return (f"{length(mm, unit)} on {' '.join(edges)}" for mm, edges in by_amount.items())


def _note_lines(note: FitNote, unit: Unit, gone: Sequence[str]) -> Iterator[RenderableType]:
    side = "" if note.side is NotedSide.BOTH else f"{note.side} side"
    amount = length(note.amount_mm, unit) if note.amount_mm is not None else ""
    wearer = f"worn by {note.wearer}" if note.wearer else ""
    facts = ", ".join(filter(None, (amount, side, wearer, note.date.isoformat())))
    mended = f"mended by {', '.join(note.resolved_by)}" if note.resolved_by else "open"
    if gone:
        mended += f"; {', '.join(gone)} is in no pattern any more"
    for line in (facts, note.words, note.photo, mended):
        if line:
            yield Padding(said(line), (0, 0, 0, 2))
