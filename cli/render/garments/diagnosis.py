"""A diagnosis on the page: the checks in order, the pattern read off, the commands to try."""

from collections.abc import Iterable, Iterator

from rich.console import RenderableType
from rich.padding import Padding

from trueup.cli.amounts import difference, length
from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.proposed import correction_line
from trueup.cli.render.table import PlainTable
from trueup.cli.terminal.typesetting import upper_first
from trueup.cli.wording.seen import seen_in_words, symptom_in_words
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.diagnosis.diagnose import Advice, Diagnosis
from trueup.lineage.diagnosis.proposing import Proposed
from trueup.lineage.diagnosis.readings import Reading, Sibling
from trueup.lineage.evaluation.origin import Origin
from trueup.lineage.symptoms.rows import SOURCES, Attested, Check

_MOST_SIBLINGS = 3
_UNATTESTED = "*"
_SAME = 0.05  # mm; less cannot be read off a tape


def diagnosis_lines(
    found: Diagnosis, unit: Unit, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield one diagnosis."""
    yield said(_title(found, unit), "bold")
    if found.words:
        yield said(f"Seen: {found.words}.")
    if not found.usual:
        yield said(f"It is not usually seen at {found.place}; look whether it begins elsewhere.")
    if found.looks:
        yield from _general(found, commands)
        return
    yield said("Check in this order, and decide for yourself:")
    heads = ("look at", "likely cause", "typical", "at most", "source")
    yield PlainTable(heads, [_row(n, each, unit) for n, each in enumerate(found.advice, 1)])
    readings = {r.measure: r for each in found.advice for r in each.readings}
    if readings:
        yield ""
        yield from _readings(found.node, readings.values(), unit)
    yield ""
    for number, advice in enumerate(found.advice, 1):
        yield from _what_to_try(number, advice, found.node, unit, commands)
    yield from _sources(found.advice)


def _title(found: Diagnosis, unit: Unit) -> str:
    of = f"{found.garment.name}, cut from {found.node}" if found.garment else found.node
    seen = (
        seen_in_words(found.symptom, found.place)
        if found.place
        else symptom_in_words(found.symptom)
    )
    amount = "" if found.amount is None else f", {length(found.amount, unit)}"
    note = f" ({found.note.id})" if found.note else ""
    return f"{of}: {seen}{amount}{note}"


def _general(found: Diagnosis, commands: CommandLine) -> Iterator[RenderableType]:
    here = tuple(look for look in found.looks if look.fits_place)
    of = f", what concerns {found.place}" if here else ""
    yield said(
        f"Only words are known of this, so nothing can be proposed. Look at these in order{of}; a "
        "symptom that fits can be diagnosed by its name:"
    )
    rows = [(look.area.value, look.look_at, look.symptom) for look in here or found.looks]
    yield PlainTable(("area", "look at", "would speak for"), rows)
    if here:
        yield said("All there is to look at:")
        yield command(commands.line("diagnose", found.node, found.symptom))


def _row(number: int, advice: Advice, unit: Unit) -> tuple[str, ...]:
    check = advice.check
    return (
        f"{number}. {check.look_at}",
        check.cause,
        _typical(check, unit),
        length(check.largest, unit),
        _source(check),
    )


def _source(check: Check) -> str:
    tags = ", ".join(check.sources)
    if check.mark is Attested.PUBLISHED:
        return tags
    if check.mark is Attested.IDEA_PUBLISHED:
        return f"{tags} (the idea)"
    return f"{check.mark.value}, see {tags}" if tags else check.mark.value


def _typical(check: Check, unit: Unit) -> str:
    if check.typical is None:
        return "-"
    low, high = (length(amount, unit) for amount in check.typical)
    mark = f" {_UNATTESTED}" if check.amounts is not Attested.PUBLISHED else ""
    return f"{low}{mark}" if low == high else f"{low} to {high}{mark}"


def _readings(node: str, found: Iterable[Reading], unit: Unit) -> Iterator[RenderableType]:
    found = tuple(found)
    heads = ["measure", node, "beside its block"]
    was_cut = any(reading.cut_mm is not None for reading in found)
    if was_cut:
        heads.append("as it was cut")
    heads.append("siblings without this complaint")
    rows = []
    for reading in found:
        row = [reading.measure, length(reading.now_mm, unit)]
        row.append(_beside(reading.block_mm, reading.now_mm, unit))
        if was_cut:
            row.append(_beside(reading.cut_mm, reading.now_mm, unit))
        row.append(_siblings(reading.siblings, unit))
        rows.append(tuple(row))
    yield PlainTable(heads, rows, right=(node,))


def _beside(other: float | None, now: float, unit: Unit) -> str:
    if other is None:
        return "-"
    if abs(now - other) < _SAME:
        return "the same"
    return f"{length(other, unit)} ({difference(other, now, unit)} here)"


def _siblings(siblings: tuple[Sibling, ...], unit: Unit) -> str:
    told = [f"{each.name} {length(each.mm, unit)}" for each in siblings[:_MOST_SIBLINGS]]
    more = len(siblings) - len(told)
    return ", ".join([*told, f"and {more} more"] if more else told) or "-"


def _what_to_try(
    number: int, advice: Advice, node: str, unit: Unit, commands: CommandLine
) -> Iterator[RenderableType]:
    remedy = advice.check.remedy
    if advice.check.kind is None and advice.check.done_by:
        yield said(f"{number}. {upper_first(remedy)}. See how it is made:")
        yield command(commands.line("correct", node, advice.check.done_by, "--help"))
    elif advice.check.kind is None:
        yield said(f"{number}. By hand: {remedy}.")
    elif advice.proposed is None:
        obstacle = worded(advice.obstacle, unit)
        yield said(f"{number}. Nothing to try, for {obstacle}; it would be to {remedy}.")
    else:
        yield said(f"{number}. {upper_first(remedy)}.")
        yield Padding(said(_shaped(advice.origin, unit) + _amount(advice, unit)), (0, 0, 0, 2))
        yield _tried(advice.proposed, commands)
        if advice.here:
            yield Padding(said(f"or on {node} alone:"), (0, 0, 0, 2))
            yield _tried(advice.here, commands)


def _tried(made: Proposed, commands: CommandLine) -> RenderableType:
    return command(correction_line(commands, made.node, made.kind, made.values))


def _shaped(origin: Origin | None, unit: Unit) -> str:
    if origin is None:
        return ""
    if origin.step is None:
        return f"The line is as it was drafted at {origin.node}. "
    made = step_in_words(origin.step, unit)
    return f"The line was last shaped at {origin.node}: {made}. "


def _amount(advice: Advice, unit: Unit) -> str:
    amount = advice.amount
    if amount is None:
        return "Try:"
    told = f"{length(amount, unit)} {advice.check.counted}"
    if advice.capped:
        return f"More was seen than is recommended at once; try {told}:"
    return f"Try {told}:"


def _sources(advice: Iterable[Advice]) -> Iterator[RenderableType]:
    checks = [each.check for each in advice]
    tags = dict.fromkeys(tag for check in checks for tag in check.sources)
    yield ""
    for tag in tags:
        yield said(f"{tag}: {SOURCES[tag]}")
    if any(check.typical and check.amounts is not Attested.PUBLISHED for check in checks):
        yield said(f"{_UNATTESTED} from memory, no source: where to begin, and no rule.")
    if any(check.mark is Attested.COMMON_PRACTICE for check in checks):
        yield said("Common practice has no source.")
