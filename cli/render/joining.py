"""What joining two makers' work brought: what came in, what was the same, what contradicts."""

from collections.abc import Iterator

from rich.console import RenderableType
from rich.padding import Padding

from trueup.cli.command_line import CommandLine
from trueup.cli.page import said
from trueup.cli.render.became import became_lines
from trueup.cli.render.conflicts import conflict_lines
from trueup.geometry.units import Unit
from trueup.lineage.merging.joining import Joining
from trueup.lineage.replay.replay import Replay

_HEADS = {
    "came-in": "Came in",
    "same": "The same on both sides",
    "kept": "Kept",
    "dropped": "Taken out",
}


def joining_lines(
    joining: Joining, commit: str | None, unit: Unit, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield what a joining did, the verdicts of each side's steps, and every new conflict."""
    yield said(joining.subject, "bold")
    yield said(
        "A preview: nothing is written." if commit is None else f"Recorded as {commit[:10]}."
    )
    for what, head in _HEADS.items():
        notes = [each for each in joining.notes if each.what == what]
        if notes:
            yield ""
            yield said(head, "bold")
        for each in notes:
            yield _indented(f"{each.place}: {each.says}")
    for found in joining.looked_over.theirs:
        yield from _verdicts(found, "their", unit)
    for found in joining.looked_over.ours:
        yield from _verdicts(found, "our", unit)
    for head, conflicts in (
        ("Contradicts", joining.contradictions),
        ("Conflicts", joining.conflicts),
    ):
        if conflicts:
            yield ""
            yield said(head, "bold")
        for conflict in conflicts:
            yield from conflict_lines(conflict, unit, None if commit is None else commands)
    if joining.looked_over.settled:
        names = ", ".join(f"{each.id} at {each.arose_at}" for each in joining.looked_over.settled)
        yield ""
        yield said(f"Settled: {names}")


def _verdicts(found: Replay, whose: str, unit: Unit) -> Iterator[RenderableType]:
    if not found.patterns:
        return
    kinds = ", ".join(dict.fromkeys(step.kind for step in found.cause.steps)) or "re-measuring"
    yield ""
    yield said(f"What became of {whose} {kinds} on {found.cause.node}", "bold")
    yield from became_lines(found, unit)


def _indented(text: str) -> Padding:
    return Padding(said(text), (0, 0, 0, 2))
