"""A measure over time, on the page."""

from collections.abc import Iterator, Sequence

from rich.console import RenderableType

from trueup.cli.amounts import difference, length
from trueup.cli.page import said
from trueup.cli.render.table import PlainTable
from trueup.cli.wording.kinds import subject_in_words
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.chronicle.over_time import TakenMeasure
from trueup.lineage.chronicle.words import step_in_words


def over_time_lines(
    node: str, found: Sequence[TakenMeasure], unit: Unit
) -> Iterator[RenderableType]:
    """Yield a table for each measure: each commit that changed it, oldest first."""
    for index, name in enumerate(dict.fromkeys(each.name for each in found)):
        if index:
            yield ""
        yield said(f"{name} of {node}, oldest first", "bold")
        rows = [_row(each, unit) for each in found if each.name == name]
        yield PlainTable(("when", "version", "value", "change", "by"), rows, right=("value",))


def _row(taken: TakenMeasure, unit: Unit) -> tuple[str, str, str, str, str]:
    commit = taken.entry.commit
    return (
        commit.when.strftime("%Y-%m-%d"),
        commit.id[:10],
        "gone" if taken.value_mm is None else length(taken.value_mm, unit),
        _change(taken, unit),
        _by(taken.entry, unit),
    )


def _change(taken: TakenMeasure, unit: Unit) -> str:
    if taken.value_mm is None or taken.change_mm is None:
        return "-"
    return difference(taken.value_mm - taken.change_mm, taken.value_mm, unit)


def _by(entry: Entry, unit: Unit) -> str:
    """Return which step of which node it was; the commit's own words where it was none."""
    steps = [f"{step_in_words(step, unit, entry.body)} ({step.id})" for step in entry.steps]
    if not steps or not entry.node:
        return subject_in_words(entry.commit.subject)
    back = "taken back: " if entry.undone else ""
    return f"{entry.node}: {back}{'; '.join(steps)}"
