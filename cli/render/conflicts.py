"""Conflicts on the page: where each arose, what does not hold, and how it can be settled."""

from collections.abc import Iterator, Mapping, Sequence

from rich.console import RenderableType
from rich.padding import Padding
from rich.text import Text

from trueup.cli.amounts import before_and_after, length
from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.render.matters import conflict_title, facts_of
from trueup.cli.terminal.fitted import Hanging
from trueup.cli.wording.kinds import chosen_in_words
from trueup.cli.wording.words import worded
from trueup.geometry.limits import LARGEST_LENGTH
from trueup.geometry.units import Unit
from trueup.lineage.files.records import (
    EASE_OF,
    ConflictKind,
    ConflictRecord,
    ConflictState,
    LeftOpen,
    Remedy,
    RemedyEffect,
)


def conflict_lines(
    conflict: ConflictRecord, unit: Unit, commands: CommandLine | None, number: int | None = None
) -> Iterator[RenderableType]:
    """Yield one conflict: where and what it is about, its numbers, its remedies as commands.

    `commands` is None where it is only foretold: nothing can be decided yet. `number` is the one
    it has in a picture.
    """
    state = "" if conflict.state is ConflictState.OPEN else f", {conflict.state.value}"
    title = said(f"{_counted(number)}{conflict_title(conflict, unit)}", "bold")
    yield Text.assemble(title, said(f" ({conflict.id}{state})", "dim"))
    yield _indented(worded(conflict.says, unit))
    if numbers := numbers_line(conflict, unit):
        yield _indented(numbers)
    for decision in conflict.decisions:
        reason = f": {decision.why}" if decision.why else ""
        yield _indented(f"decided: {remedy_in_words(conflict, decision.remedy, unit)}{reason}")
    for remedy in conflict.remedies:
        yield from _remedy(remedy, unit)
        if commands is not None:
            yield command(f"  {commands.decide(conflict.id, remedy.name)}")


def remedy_in_words(conflict: ConflictRecord, name: str, unit: Unit) -> str:
    """Return what a remedy does, and what it is called; in short where it is offered no more."""
    found = next((each for each in conflict.remedies if each.name == name), None)
    says = chosen_in_words(name) if found is None else worded(found.says, unit)
    return f"{says} ({name})"


def _remedy(remedy: Remedy, unit: Unit) -> Iterator[RenderableType]:
    says = worded(remedy.says, unit)
    amount = "" if remedy.amount_mm is None else length(remedy.amount_mm, unit)
    by = f" ({amount})" if amount and amount not in says else ""
    yield Hanging("  - ", "    ", said(f"{says}{by}"))
    for each in remedy.effects:
        yield Hanging("    ", "      ", said(_effect(each, unit)))
    for left in remedy.leaves:
        yield Hanging("    ", "      ", said(f"leaves open: {left_in_words(left, unit)}"))


def _counted(number: int | None) -> str:
    return "" if number is None else f"{number}. "


def _indented(text: str) -> Padding:
    return Padding(said(text), (0, 0, 0, 2))


def place_words(conflict: ConflictRecord) -> str:
    """Return the piece and edge of a conflict to set behind its node, empty without one."""
    place = ".".join(part for part in (conflict.piece, conflict.edge) if part)
    return f" on {place}" if place else ""


def numbers_line(conflict: ConflictRecord, unit: Unit) -> str:
    """Return what was measured before and after and what is allowed, empty where nothing was."""
    if conflict.after_mm is None:
        return ""
    read = str(facts_of(conflict).get("read", ""))
    what = "ease" if conflict.kind is ConflictKind.SEAM else read or "measured"
    if conflict.section:
        what = f"{what} of the {conflict.section} part"
    if conflict.before_mm is None:
        numbers = f"{what} {length(conflict.after_mm, unit)}"
    else:
        numbers = f"{what} {before_and_after(conflict.before_mm, conflict.after_mm, unit)}"
    if conflict.allowed_mm is None:
        return numbers
    low, high = (length(limit, unit) for limit in conflict.allowed_mm)
    if conflict.allowed_mm[1] >= LARGEST_LENGTH:
        return f"{numbers}; at least {low} is allowed"
    return f"{numbers}; allowed {low} to {high}"


def remedy_line(remedy: Remedy, unit: Unit) -> str:
    """Return one way to settle a conflict, its computed amount, and what it leaves open."""
    amount = "" if remedy.amount_mm is None else f" ({length(remedy.amount_mm, unit)})"
    effects = "; ".join(_effect(each, unit) for each in remedy.effects)
    leaves = "; ".join(left_in_words(each, unit) for each in remedy.leaves)
    does = f" ({effects})" if effects else ""
    leaves = f"; leaves open: {leaves}" if leaves else ""
    return f"{remedy.name}{amount}: {worded(remedy.says, unit)}{does}{leaves}"


def _effect(effect: RemedyEffect, unit: Unit) -> str:
    name = effect.name
    if name.startswith(EASE_OF):
        name = f"ease of the {name.removeprefix(EASE_OF)} part"
    return f"{name} {before_and_after(effect.before_mm, effect.after_mm, unit)}"


def left_in_words(left: LeftOpen, unit: Unit) -> str:
    """Return something a remedy leaves open: what, where, and how far beyond what is allowed."""
    code = left.code.partition(":")[0]
    beyond = f"{left.excess:.0f} degrees" if "kink" in code else length(left.excess, unit)
    far = f", {beyond} beyond what is allowed" if left.excess else ""
    return f"{code} at {'.'.join(filter(None, (left.piece, left.edge)))}{far}"


def conflict_list(
    listed: Sequence[ConflictRecord],
    inherited: Sequence[ConflictRecord],
    unit: Unit,
    commands: CommandLine,
    node: str | None,
    numbers: Mapping[str, int] | None = None,
    *,
    partly: bool = False,
) -> Iterator[RenderableType]:
    """Yield conflicts below each other, and for those a node inherits where they are settled.

    `numbers` are those a picture has set, by the ids of the conflicts; `partly` says that not all
    of the wardrobe can be read.
    """
    counted = numbers or {}
    for index, conflict in enumerate(listed):
        if index:
            yield ""
        yield from conflict_lines(conflict, unit, commands, counted.get(conflict.id))
    for conflict in inherited:
        number = _counted(counted.get(conflict.id))
        title = conflict_title(conflict, unit)
        yield said(f"{number}inherited of {title} ({conflict.id}); it settles there:")
        yield command(commands.line("conflicts", conflict.arose_at))
    if not listed and not inherited:
        where = f" at {node}" if node else " in what can be read" if partly else ""
        yield said(f"No conflict is open{where}.")
