"""What one entry of the history did: its steps, measures, verdicts, and what followed."""

from collections import defaultdict
from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from trueup.cli.amounts import before_and_after
from trueup.cli.page import said
from trueup.cli.render.replay import shortfalls, tally
from trueup.cli.wording.kinds import chosen_in_words, note_in_words
from trueup.cli.wording.seen import seen_in_words
from trueup.cli.wording.words import worded
from trueup.geometry.tolerance import UNCHANGED
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.entry import Decided, Entry
from trueup.lineage.chronicle.sizes_anew import sizes_measured
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.replay.verdicts import MeasureChange, Verdict
from trueup.lineage.store import Commit

if TYPE_CHECKING:
    from trueup.lineage.replay.replay import PatternReplay


def effect_lines(entry: Entry, unit: Unit) -> Iterator[RenderableType]:
    """Yield all that is known of an entry beyond its heading; evaluates what it needs."""
    yield from (said(line) for line in effect_in_words(entry, unit))


def effect_in_words(entry: Entry, unit: Unit) -> Iterator[str]:
    """Yield, a line each: steps, why, measures, verdicts, conflicts, decisions, garments."""
    yield from made_in_words(entry, unit)
    for each in entry.effect.measures:
        if abs(each.change_mm) > UNCHANGED:
            yield measure_in_words(each, unit)
    yield from verdicts_in_words(entry.effect.patterns, unit)
    yield from followed_in_words(entry, unit)


def measure_in_words(measure: MeasureChange, unit: Unit) -> str:
    """Return the name of a measure, what it was and what it became."""
    return f"{measure.name} {before_and_after(measure.before_mm, measure.after_mm, unit)}"


def made_in_words(entry: Entry, unit: Unit) -> Iterator[str]:
    """Yield the steps of an entry, what it measured anew, and why."""
    if entry.is_join:
        yield "joined two histories; the steps of both are told one by one"
    undone = "took back: " if entry.undone else ""
    for step in entry.steps:
        words = step_in_words(step, unit, entry.body)
        yield f"{undone}{words} ({step.role.value} {step.id} of {entry.node})"
    if entry.remeasured:
        told = ", ".join(each.words for each in entry.remeasured)
        yield f"{undone}{entry.node} drafted anew{as_whom(entry)}: {told}{by_id(entry)}"
    elif entry.drafted_for:
        yield f"{undone}{entry.node} drafted{as_whom(entry)}"
    for block, measured in sizes_measured(entry).items():
        yield f"{undone}{block} drafted anew: {', '.join(each.words for each in measured)}"
    if entry.why:
        yield f"why: {entry.why}"
    if entry.effect.unreadable:
        yield f"not all it did can be told: {worded(entry.effect.unreadable, unit)}"


def by_id(entry: Entry) -> str:
    """Return the id of a re-measuring, by which a fit note says that it mended something."""
    made = [each for each in entry.step_ids if each not in {step.id for step in entry.steps}]
    return f" ({', '.join(made)})" if made else ""


def as_whom(entry: Entry) -> str:
    """Return from whose set of measurements a block was drafted, where it was from another."""
    of = entry.drafted_for
    return f" as {of.body} of {of.measured}" if of else ""


def followed_in_words(entry: Entry, unit: Unit) -> Iterator[str]:
    """Yield the conflicts an entry brought and settled, and what came of them and of garments."""
    for conflict in entry.effect.opened:
        yield f"brought {conflict.id} at {conflict.arose_at}: {worded(conflict.says, unit)}"
    for conflict in entry.effect.settled:
        yield f"settled {conflict.id} at {conflict.arose_at}"
    yield from (decision_in_words(each) for each in entry.decided)
    for change in entry.garments:
        yield f"garment {change.garment}: {worded(change.says, unit)}"
    for each in entry.bodies:
        yield f"body {each.body}: {each.says}"
    for garment, note in entry.mended:
        yield f"mended on {garment}: {seen_in_words(note.symptom, note.place)} ({note.id})"


def verdicts_in_words(patterns: "tuple[PatternReplay, ...]", unit: Unit) -> Iterator[str]:
    """Yield the count of verdicts, and the patterns of each; amounts where not all arrived."""
    if not patterns:
        return
    yield tally(patterns)
    by_verdict: dict[Verdict, list[str]] = defaultdict(list)
    for pattern in patterns:
        by_verdict[pattern.verdict].append(_named(pattern, unit))
    for verdict in Verdict:
        if by_verdict[verdict]:
            yield f"{verdict.value}: {', '.join(by_verdict[verdict])}"


def _named(pattern: "PatternReplay", unit: Unit) -> str:
    short = shortfalls(pattern.measures, unit)
    if note := note_in_words(pattern.note):
        short = [*(short if pattern.verdict is Verdict.PARTLY else ()), note]
    remark = ", ".join(short)
    return f"{pattern.name} ({remark})" if remark else pattern.name


def who(commit: Commit) -> str:
    """Return the name of whoever recorded a commit, without the address."""
    name, _, _ = commit.author.rpartition(" <")
    return name.strip() or commit.author


def decision_in_words(decided: Decided) -> str:
    """Return a decision that followed: what about, what, when, by whom and why."""
    day = decided.commit.when.strftime("%Y-%m-%d")
    why = f": {decided.decision.why}" if decided.decision.why else ""
    back = " (taken back)" if decided.taken_back else ""
    conflict = decided.conflict
    return (
        f"decided {conflict.id} at {conflict.arose_at} on {day} by {who(decided.commit)}: "
        f"{chosen_in_words(decided.decision.remedy)} ({decided.commit.id[:10]}){back}{why}"
    )
