"""How a pattern came to be, on the page."""

from collections.abc import Iterable, Iterator

from rich.console import RenderableType
from rich.padding import Padding

from trueup.cli.amounts import before_and_after
from trueup.cli.page import said, said_lines
from trueup.cli.render.chronicle.entries import as_whom, by_id, who
from trueup.cli.render.chronicle.history import origin_in_words
from trueup.cli.render.conflicts import remedy_in_words
from trueup.cli.render.table import PlainTable
from trueup.cli.terminal.fitted import Hanging
from trueup.cli.terminal.typesetting import upper_first
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.chain import Chapter, ExplainedStep, Explanation
from trueup.lineage.files.records import ConflictRecord
from trueup.lineage.replay.verdicts import MeasureChange


def explanation_lines(found: Explanation, unit: Unit) -> Iterator[RenderableType]:
    """Yield the chapters of a pattern's lineage, and what its measures came to."""
    yield said(f"How {found.node.name} came to be", "bold")
    for chapter in found.chapters:
        yield ""
        yield said(heading(chapter), "bold")
        for line in chapter_start(chapter, unit):
            yield _indented(line, 2)
        for number, (told, previous) in enumerate(with_previous(chapter), 1):
            yield _item(number, step_sentence(told, previous), after_step(told, unit))
    if found.moved:
        yield ""
        yield said(f"What the steps changed, from the block to {found.node.name}", "bold")
        rows = [(each.name, changed(each, unit)) for each in found.moved]
        yield PlainTable(("measure", "block -> now"), rows)


def heading(chapter: Chapter) -> str:
    """Return what a chapter is called."""
    held = f", as of version {chapter.held[:10]}" if chapter.held else ""
    return f"{chapter.node.name} ({chapter.node.kind}{held})"


def chapter_start(chapter: Chapter, unit: Unit) -> Iterator[str]:
    """Yield what a node starts from, measured anew or not, and conflicts of no step of its own."""
    words = origin_in_words(chapter.node)
    steps = "" if chapter.steps else "; it has no steps of its own"
    yield f"{upper_first(words)}{steps}."
    for entry in chapter.remeasured:
        told = ", ".join(each.words for each in entry.remeasured)
        day = entry.commit.when.strftime("%Y-%m-%d")
        why = f" Why: {_full(entry.why)}" if entry.why else ""
        start = f"Re-measured on {day}{as_whom(entry)} by {who(entry.commit)}"
        yield f"{start}: {told}{by_id(entry)}.{why}"
    for conflict in chapter.conflicts:
        yield from conflict_in_words(conflict, unit)


def with_previous(chapter: Chapter) -> Iterator[tuple[ExplainedStep, ExplainedStep | None]]:
    """Yield each step of a chapter with the one before it."""
    yield from zip(chapter.steps, (None, *chapter.steps), strict=False)


def step_sentence(told: ExplainedStep, previous: ExplainedStep | None) -> str:
    """Return a step as a sentence: what and why; behind it as what, by which id, when, by whom."""
    facts = ", ".join((known_as(told), *_facts(told)))
    return f"{_what(told)}.{_why(told, previous)} ({facts})"


def step_alone(told: ExplainedStep, previous: ExplainedStep | None) -> str:
    """Return a step as a sentence where its id is told beside it: what, when, by whom and why."""
    facts = ", ".join(_facts(told))
    return f"{_what(told)}{f' ({facts})' if facts else ''}.{_why(told, previous)}"


def known_as(told: ExplainedStep) -> str:
    """Return what a step was made as, and its id."""
    return f"{told.step.role.value} {told.step.id}"


def _what(told: ExplainedStep) -> str:
    return upper_first(told.words)


def _facts(told: ExplainedStep) -> list[str]:
    day = told.step.date or (told.commit.when.date() if told.commit else None)
    facts = [str(day)] if day else []
    facts += [f"taken over from {told.taken_from}"] if told.taken_from else []
    return [*facts, *([f"by {who(told.commit)}"] if told.commit else [])]


def _why(told: ExplainedStep, previous: ExplainedStep | None) -> str:
    """Return why a step was made; it is not said again of steps that were made at one fitting."""
    fitting = told.step.fitting
    together = bool(fitting and previous and previous.step.fitting == fitting)
    why = "" if together else told.step.why
    return f" Why: {_full(why)}" if why else ""


def after_step(told: ExplainedStep, unit: Unit) -> Iterator[str]:
    """Yield what a step changed, and what it ran into."""
    if told.left_out:
        yield _full(worded(told.left_out, unit))
    for each in told.measures:
        yield f"{each.name} {changed(each, unit)}"
    if not told.measures and not told.left_out:
        yield "no measure changed"
    for conflict in told.conflicts:
        yield from conflict_in_words(conflict, unit)


def changed(measure: MeasureChange, unit: Unit) -> str:
    """Return a measure before and after; new or gone where it has only one of them."""
    if measure.before_mm is None:
        return f"new, {before_and_after(None, measure.after_mm, unit).removeprefix('- -> ')}"
    if measure.after_mm is None:
        return f"{before_and_after(measure.before_mm, None, unit).removesuffix(' -> -')}, gone"
    return before_and_after(measure.before_mm, measure.after_mm, unit)


def conflict_in_words(conflict: ConflictRecord, unit: Unit) -> Iterable[str]:
    """Yield a conflict with its state, then each decision made about it."""
    at = conflict.corrected if conflict.was_corrected else ""
    corrected = f" with a correction of {at}" if at else ""
    says = _full(worded(conflict.says, unit))
    yield f"Conflict{corrected}, {conflict.state.value}: {says} ({conflict.id})"
    for decision in conflict.decisions:
        day = f" on {decision.date}" if decision.date else ""
        why = f": {_full(decision.why)}" if decision.why else "."
        yield f"Decided{day}: {remedy_in_words(conflict, decision.remedy, unit)}{why}"


def _full(text: str) -> str:
    return text if text.rstrip().endswith((".", "!", "?")) else f"{text.rstrip()}."


def _item(number: int, text: str, lines: Iterable[str]) -> Padding:
    """Return a numbered sentence with lines below it, all in line with its words."""
    before = f"{number}. "
    return Padding(Hanging(before, " " * len(before), said_lines([text, *lines])), (0, 0, 0, 2))


def _indented(line: str, by: int) -> Padding:
    return Padding(said(line), (0, 0, 0, by))
