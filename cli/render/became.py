"""What became of a step, by urgency: what is not as it was meant first, what arrived folded.

It is the order of a correction's page in the book.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec.structs import replace
from rich.console import RenderableType
from rich.text import Text

from trueup.cli.amounts import change
from trueup.cli.command_line import CommandLine
from trueup.cli.page import said, said_lines
from trueup.cli.render.conflicts import conflict_lines
from trueup.cli.render.matters import conflict_title, matter
from trueup.cli.render.replay import (
    arrived_lines,
    by_urgency,
    is_exception,
    measure_table,
    remarks,
    tally,
    unstated,
    verdict_word,
)
from trueup.cli.render.table import PlainTable
from trueup.cli.terminal.fitted import Hanging
from trueup.geometry.units import Unit
from trueup.lineage.files.records import ConflictRecord, ConflictState
from trueup.lineage.replay.verdicts import Carried, Verdict

if TYPE_CHECKING:
    from trueup.lineage.replay.replay import PatternReplay, Replay

_MOST_FOLDED = 4  # measures of which it is told how much of each arrived


def replay_lines(
    replay: "Replay", unit: Unit, commands: CommandLine | None
) -> Iterator[RenderableType]:
    """Yield what a step did at its node and in each descendant, and every new conflict.

    `commands` is None where the step is not recorded, so that no conflict can be decided yet.
    """
    if replay.measures:
        yield measure_table(replay.measures, unit)
    if replay.unchecked:
        yield said(f"Not checked at {replay.cause.node}: {unstated(replay.unchecked)}.", "yellow")
    if replay.patterns:
        yield ""
        yield from became_lines(replay, unit)
    for conflict in replay.arisen:
        yield ""
        yield from conflict_lines(conflict, unit, commands)
    if replay.settled:
        yield ""
        yield said("Settled by it", "bold")
        for each in replay.settled:
            over = replace(each, state=ConflictState.SETTLED)
            yield Hanging("  ", "    ", said(f"{conflict_title(over, unit)} ({each.id})"))


def became_lines(replay: "Replay", unit: Unit) -> Iterator[RenderableType]:
    """Yield a row for each descendant of which there is more to say than that all of it arrived.

    The most urgent come first. All others are named below it in one, and how many came to what.
    """
    ranked = by_urgency(replay.patterns)
    known = {each.id: each for each in replay.arisen}
    exceptions = [each for each in ranked if is_exception(each)]
    if exceptions:
        heads = ("pattern", "verdict", "got / wanted")
        yield PlainTable(heads, [_row(each, known, unit) for each in exceptions])
    yield from _carried([each for each in ranked if not is_exception(each)], unit)
    yield said(tally(replay.patterns))


def _row(
    pattern: "PatternReplay", known: Mapping[str, ConflictRecord], unit: Unit
) -> tuple[Text, Text, Text]:
    told = [*arrived_lines(pattern.measures, unit), *remarks(pattern)]
    told += [matter(each, unit) for each in pattern.conflicts]
    told += [_taken_over(known.get(each), each) for each in dict.fromkeys(pattern.inherits)]
    return said(pattern.name), verdict_word(pattern.verdict), said_lines(told or ["-"])


def _taken_over(conflict: ConflictRecord | None, known_as: str) -> str:
    where = f"with {conflict.arose_at} " if conflict else ""
    return f"takes over a conflict and settles {where}({known_as})"


def _carried(patterns: "Sequence[PatternReplay]", unit: Unit) -> Iterator[RenderableType]:
    """Yield how many descendants all of it arrived in, and their names by what is said of them."""
    if not patterns:
        return
    by_remark: dict[tuple[str, ...], list[PatternReplay]] = {}
    for each in patterns:
        by_remark.setdefault(tuple(remarks(each)), []).append(each)
    plain = by_remark.pop((), [])
    names = f": {_names(plain)}" if plain else ""
    words = Text(f"{len(patterns)} {Verdict.CARRIED.value}", "green").append_text(said(names))
    yield Hanging("+ ", "    ", words)
    for line in _how_much([each.measures for each in plain], unit):
        yield Hanging("  ", "    ", said(line))
    for told, of in by_remark.items():
        yield Hanging("  ", "    ", said(f"{'; '.join(told)}: {_names(of)}"))


def _names(patterns: "Iterable[PatternReplay]") -> str:
    return ", ".join(each.name for each in patterns)


def _how_much(found: Sequence[Sequence[Carried]], unit: Unit) -> Iterator[str]:
    """Yield for each measure what arrived of what was wanted, from the least to the most."""
    by_name: dict[str, list[Carried]] = {}
    for each in (one for measures in found for one in measures):
        by_name.setdefault(each.name, []).append(each)
    if len(by_name) > _MOST_FOLDED:
        return
    for name, of in by_name.items():
        got = [each.got_mm for each in of if each.got_mm is not None]
        if got:
            wanted = [each.wanted_mm for each in of]
            yield f"{name} {_from_to(got, unit)} / {_from_to(wanted, unit)}"


def _from_to(found: Sequence[float], unit: Unit) -> str:
    least, most = (change(each, unit) for each in (min(found, key=abs), max(found, key=abs)))
    return least if least == most else f"{least} to {most}"
