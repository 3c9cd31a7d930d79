"""What does not hold at a node, on the page."""

from collections.abc import Iterator, Mapping, Sequence

from rich.console import RenderableType
from rich.padding import Padding
from rich.text import Text

from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.render.matters import matter
from trueup.cli.render.table import Cell, PlainTable
from trueup.cli.wording.seen import line_in_words
from trueup.cli.wording.words import worded
from trueup.geometry.measuring.finding import Severity
from trueup.geometry.units import Unit
from trueup.lineage.files.records import ConflictRecord
from trueup.lineage.replay.curing.names import ACCEPT
from trueup.lineage.replay.standing import Standing

_SIGNS = {
    Severity.ERROR: ("!", "bold red"),
    Severity.WARNING: ("~", "yellow"),
    Severity.NOTE: (".", ""),
}

HOW_TO_STATE = "Say what a line is sewn to with sew-together, or with leave-free that it is free."


def finding_lines(
    node: str,
    found: Sequence[Standing],
    waiting: Sequence[ConflictRecord],
    unit: Unit,
    commands: CommandLine,
) -> Iterator[RenderableType]:
    """Yield each finding with its sign and place, and what to do next.

    `waiting` are the open conflicts of the node, of which some are no findings.
    """
    for each in found:
        yield from _finding(node, each, unit)
    count = sum(each.is_open for each in found)
    taken = sum(each.accepted for each in found)
    blind = [each.place for each in found if each.is_unchecked]
    if blind:
        yield said(f"{node} cannot be called true: no seam is stated for {', '.join(blind)}.")
        yield said(HOW_TO_STATE)
    if count:
        yield said(f"{count} {'thing is' if count == 1 else 'things are'} open at {node}.", "bold")
    elif waiting:
        yield said(f"{node} is true as it is drawn; a decision about it is open.", "yellow")
    else:
        accepted = f" ({taken} accepted)" if taken else ""
        yield said(f"{node} is true: nothing is open{accepted}.", "green")
    above = [each.conflict for each in found if each.conflict is not None and each.is_open]
    to_settle = [*above, *waiting]
    if to_settle:
        waits = (
            "Next, see what waits for a decision:" if not count else "Next, see how to settle it:"
        )
        yield said(waits)
        yield command(commands.line("conflicts", to_settle[0].arose_at))
    elif unspoken := [each for each in found if each.is_open and each.conflict is None]:
        yield said("Next, see how to settle it, or accept it as it is, saying why:")
        yield command(commands.line("conflicts", unspoken[0].id))
        yield command(f"{commands.decide(unspoken[0].id, ACCEPT)} --why ...")


def all_lines(
    found: Mapping[str, Sequence[Standing]], commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield a line for every block and pattern, and how to look into the first that is not true."""
    if not found:
        yield said("There is no block and no pattern to check.")
        return
    yield PlainTable(("pattern", "", "open"), [_of_all(*each) for each in found.items()])
    open_at = [name for name, each in found.items() if any(one.is_open for one in each)]
    true = len(found) - len(open_at)
    yield said(f"{true} of {len(found)} {'is' if true == 1 else 'are'} true.")
    if open_at:
        yield said("Next, see what is open at the first:")
        yield command(commands.line("check", open_at[0]))


def _of_all(node: str, found: Sequence[Standing]) -> tuple[Cell, ...]:
    places = [each.place for each in found if each.is_open]
    accepted = sum(each.accepted for each in found)
    nothing = f"nothing ({accepted} accepted)" if accepted else "-"
    told = ", ".join(dict.fromkeys(places)) or nothing
    return node, Text(*(("! open", "bold red") if places else ("+ true", "green"))), told


def _finding(node: str, found: Standing, unit: Unit) -> Iterator[RenderableType]:
    sign, style = (".", "") if found.accepted else _SIGNS[found.severity]
    word = "accepted" if found.accepted else found.severity.value
    line = line_in_words(found.piece, found.edge)
    what = matter(found.conflict, unit) if found.conflict else f"{found.code} at {line}"
    yield said(f"{sign} {word}: {what}", style)
    yield Padding(said(worded(found.says, unit)), (0, 0, 0, 2))
    if found.id:
        inherited = "" if found.arose_at == node else ", inherited"
        what = "" if found.conflict is None else "conflict "
        yield Padding(said(f"{what}{found.id} at {found.arose_at}{inherited}"), (0, 0, 0, 2))
    reasons = [each.why for each in found.conflict.decisions if each.why] if found.conflict else []
    if found.accepted and reasons:
        yield Padding(said(f"accepted: {reasons[-1]}"), (0, 0, 0, 2))
