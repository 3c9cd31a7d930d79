"""What does not hold at a node, on the page."""

from collections.abc import Iterator, Sequence

from rich.console import RenderableType
from rich.padding import Padding

from cli.command_line import CommandLine
from cli.render.page import command, said
from geometry.checks import Severity
from lineage.records import ConflictState
from lineage.standing import Standing

_SIGNS = {
    Severity.ERROR: ("!", "bold red"),
    Severity.WARNING: ("~", "yellow"),
    Severity.NOTE: (".", ""),
}


def finding_lines(
    node: str, found: Sequence[Standing], commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield each finding with its sign and place, and what to do next."""
    for each in found:
        sign, style = (".", "") if each.accepted else _SIGNS[each.severity]
        word = "accepted" if each.accepted else each.severity.value
        place = ".".join(part for part in (each.piece, each.edge) if part)
        yield said(f"{sign} {word} {each.code} {place}".rstrip(), style)
        yield Padding(said(each.message), (0, 0, 0, 2))
        if each.conflict is not None:
            inherited = "" if each.conflict.arose_at == node else ", inherited"
            at = f"{each.conflict.id} at {each.conflict.arose_at}{inherited}"
            yield Padding(said(f"conflict {at}"), (0, 0, 0, 2))
    count = sum(each.is_open for each in found)
    if not count:
        accepted = f" ({len(found)} accepted)" if found else ""
        yield said(f"{node} is true: nothing is open{accepted}.", "green")
        return
    things = "1 thing is" if count == 1 else f"{count} things are"
    yield said(f"{things} open at {node}.", "bold")
    waiting = [
        each.conflict
        for each in found
        if each.conflict is not None and each.conflict.state is ConflictState.OPEN
    ]
    if waiting:
        yield said("Next, see how it can be settled:")
        yield command(commands.line("conflicts", waiting[0].arose_at))
