"""How a pattern came to be, in Markdown."""

from collections.abc import Iterator

from trueup.cli.markdown.text import page, plain, table
from trueup.cli.render.chronicle.explanation import (
    after_step,
    changed,
    chapter_start,
    heading,
    step_sentence,
    with_previous,
)
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.chain import Explanation


def explanation_page(found: Explanation, unit: Unit) -> str:
    """Return the chapters of a pattern's lineage as a document."""
    return page(_lines(found, unit))


def _lines(found: Explanation, unit: Unit) -> Iterator[str]:
    yield f"# How {plain(found.node.name)} came to be"
    for chapter in found.chapters:
        yield from ("", f"## {plain(heading(chapter))}", "")
        first, *others = chapter_start(chapter, unit)
        yield plain(first)
        if others:
            yield ""
        yield from (f"- {plain(line)}" for line in others)
        if chapter.steps:
            yield ""
        for number, (told, previous) in enumerate(with_previous(chapter), 1):
            yield f"{number}. {plain(step_sentence(told, previous))}"
            indent = " " * (len(str(number)) + 2)
            yield from (f"{indent}- {plain(line)}" for line in after_step(told, unit))
    if found.moved:
        yield from ("", "## What the steps changed", "")
        rows = [(each.name, changed(each, unit)) for each in found.moved]
        yield from table(("measure", "block -> now"), rows)
