"""What needs attention in a wardrobe, and the next sensible command."""

from collections.abc import Iterator, Sequence

from rich.console import RenderableType
from rich.padding import Padding

from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.render.bodies import waits
from trueup.cli.render.matters import conflict_title
from trueup.geometry.units import Unit
from trueup.lineage.bodies.following import waiting
from trueup.lineage.files.records import ConflictRecord
from trueup.lineage.files.state import State
from trueup.lineage.files.unreadable import causes
from trueup.lineage.store import HandEdit

_MOST = 20  # conflicts listed here; `conflicts` lists them all


def attention_lines(
    state: State, edited: Sequence[HandEdit], commands: CommandLine, fetched: str | None = None
) -> Iterator[RenderableType]:
    """Yield the wardrobe in a line, its open conflicts, edits made by hand, and what comes next.

    `fetched` is the version of another maker that waits to be joined.
    """
    yield said(f"{state.settings.name}: {of_what(state)}", "bold")
    taken = [edit for edit in edited if edit.path not in state.broken_files]
    if taken:
        yield said("Edited by hand since the last step; your next step takes it up first:")
        for edit in taken:
            yield Padding(said(f"{edit.path} ({edit.kind})"), (0, 0, 0, 2))
    if fetched:
        yield said(f"Work of another maker was fetched and is not joined yet: {fetched[:10]}.")
    if state.waiting:
        yield said(f"{_many(state.waiting, 'conflict')} waiting for a decision:")
        yield from _titles(state.first_open_conflicts(_MOST), state.unit)
        if state.waiting > _MOST:
            yield said(f"... and {state.waiting - _MOST} more.")
    elif state.nodes:
        where = " in what can be read" if state.unreadable else ""
        yield said(f"No conflict is open{where}.")
    for each in waiting(state):
        yield said(f"{each.block} (drafted for {each.body}) {waits(each)}", "yellow")
    yield from _fit_notes(state, commands)
    comes_next, line = next_step(state, commands, fetched)
    yield said(f"Next, {comes_next}:")
    yield command(line)


def of_what(state: State) -> str:
    """Return how many blocks and patterns there are."""
    blocks = sum(kin.is_block for kin in state.kin.values())
    return f"{_many(blocks, 'block')}, {_many(len(state.nodes) - blocks, 'pattern')}"


def _fit_notes(state: State, commands: CommandLine) -> Iterator[RenderableType]:
    """Yield how many fit notes are open; their command, where it is not what comes next anyway."""
    garments = [each for each in state.garments.values() if each.open_notes]
    notes = sum(len(each.open_notes) for each in garments)
    if notes:
        yield said(f"{_many(notes, 'fit note')} open on {_many(len(garments), 'garment')}.")
        if state.waiting:
            yield said("See which:")
            yield command(commands.line("garments"))


def welcome_lines() -> Iterator[RenderableType]:
    """Yield what trueup is and how to begin, for a folder that is no wardrobe."""
    yield said(
        "trueup keeps fitted blocks and the patterns derived from them: correct a block once, and "
        "every pattern follows."
    )
    yield said("This folder is no wardrobe. Start one in a folder of its own:")
    yield command("trueup start my-wardrobe")
    yield said("Or look at a finished example first:")
    yield command("trueup demo demo-wardrobe")


def next_command(state: State, commands: CommandLine, fetched: str | None) -> str:
    """Return the next sensible command."""
    return next_step(state, commands, fetched)[1]


def next_step(state: State, commands: CommandLine, fetched: str | None = None) -> tuple[str, str]:
    """Return in words what comes next, and its command."""
    damages = causes(state.unreadable)
    if damages:
        put_back = commands.line("restore", damages[0].place)
        return "mend what cannot be read, or put back its last version", put_back
    return _next_of_whole(state, commands, fetched)


def _next_of_whole(state: State, commands: CommandLine, fetched: str | None) -> tuple[str, str]:
    if fetched:
        return "see what joining it would do", commands.line("mend", "--preview")
    if state.waiting:
        (first,) = state.first_open_conflicts(1)
        return "see how the first can be settled", commands.line("conflicts", first.arose_at)
    if any(garment.open_notes for garment in state.garments.values()):
        return "see what is noted on worn garments", commands.line("garments")
    return _next_of_settled(state, commands)


def _next_of_settled(state: State, commands: CommandLine) -> tuple[str, str]:
    """Return what comes next where nothing waits for a decision and nothing fits ill."""
    behind = waiting(state)
    if behind:
        line = commands.line("remeasure", behind[0].block, "--preview")
        return "see what following what was measured would do", line
    if not state.nodes and state.bodies:
        line = commands.line("draft", "NAME", "--for", min(state.bodies))
        return "draft a block from what was measured", line
    if not state.nodes:
        return "draft a block from body measurements", commands.line("draft", "--help")
    if all(kin.is_block for kin in state.kin.values()):
        block = state.in_order[0]
        return "derive a pattern", commands.line("derive", "NAME", "--from", block)
    return "look at what there is", commands.line("tree")


def _titles(conflicts: Sequence[ConflictRecord], unit: Unit) -> Iterator[RenderableType]:
    for conflict in conflicts:
        title = conflict_title(conflict, unit)
        yield Padding(said(f"{title} ({conflict.id})"), (0, 0, 0, 2))


def _many(count: int, thing: str) -> str:
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"
