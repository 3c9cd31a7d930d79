"""Conflicts on the page: where each arose, what does not hold, and how it can be settled."""

from collections.abc import Iterator, Sequence

from rich.console import RenderableType
from rich.padding import Padding

from cli.command_line import CommandLine
from cli.render.amounts import before_and_after, length
from cli.render.page import command, said
from geometry.units import Unit
from lineage.records import ConflictKind, ConflictRecord, ConflictState, Remedy


def conflict_lines(
    conflict: ConflictRecord, unit: Unit, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield one conflict: its id and place, its sentence, its numbers, its remedies as commands."""
    place = ".".join(part for part in (conflict.piece, conflict.edge) if part)
    state = "" if conflict.state is ConflictState.OPEN else f" ({conflict.state.value})"
    where = f" on {place}" if place else ""
    yield said(f"{conflict.id}{state} arose at {conflict.arose_at}{where}", "bold")
    yield _indented(conflict.says)
    if numbers := _numbers(conflict, unit):
        yield _indented(numbers)
    for decision in conflict.decisions:
        reason = f": {decision.why}" if decision.why else ""
        yield _indented(f"decided: {decision.remedy}{reason}")
    for remedy in conflict.remedies:
        yield _indented(_remedy(remedy, unit))
        yield command(f"  {commands.decide(conflict.id, remedy.name)}")


def _indented(text: str) -> Padding:
    return Padding(said(text), (0, 0, 0, 2))


def _numbers(conflict: ConflictRecord, unit: Unit) -> str:
    if conflict.after_mm is None:
        return ""
    what = "ease" if conflict.kind is ConflictKind.SEAM else "measured"
    numbers = f"{what} {before_and_after(conflict.before_mm, conflict.after_mm, unit)}"
    if conflict.allowed_mm is None:
        return numbers
    low, high = (length(limit, unit) for limit in conflict.allowed_mm)
    return f"{numbers}; allowed {low} to {high}"


def _remedy(remedy: Remedy, unit: Unit) -> str:
    amount = "" if remedy.amount_mm is None else f" ({length(remedy.amount_mm, unit)})"
    return f"{remedy.name}{amount}: {remedy.says}"


def conflict_list(
    listed: Sequence[ConflictRecord],
    inherited: Sequence[ConflictRecord],
    unit: Unit,
    commands: CommandLine,
    node: str | None,
) -> Iterator[RenderableType]:
    """Yield conflicts below each other, and for those a node inherits where they are settled."""
    for index, conflict in enumerate(listed):
        if index:
            yield ""
        yield from conflict_lines(conflict, unit, commands)
    for conflict in inherited:
        yield said(f"inherits {conflict.id} of {conflict.arose_at}; it settles there:")
        yield command(commands.line("conflicts", conflict.arose_at))
    if not listed and not inherited:
        yield said(f"No conflict is open{f' at {node}' if node else ''}.")
