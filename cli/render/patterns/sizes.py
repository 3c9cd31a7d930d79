"""The sizes of a pattern on the page, what is open in them by its cause, and how they grow."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from rich.console import RenderableType

from trueup.cli.amounts import length
from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.render.table import PlainTable
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.files.records import ConflictRecord
from trueup.lineage.sizes.growth import Growth, RunGrowth
from trueup.lineage.sizes.run import SizeOf


def size_lines(
    node: str, run: Sequence[SizeOf], unit: Unit, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield a row a size, what is open in them gathered by its cause, and what comes next."""
    if not run:
        yield said(f"{node} has no sizes yet; make them from a size table:")
        yield command(commands.line("sizes", node, "--table", "FILE.csv"))
        return
    taken = list(dict.fromkeys(n for each in run for n in _body(each)))
    heads = ("size", "pattern", "open", *taken)
    rows = [
        (
            each.size,
            each.node.name,
            str(len(each.node.open_conflicts)),
            *(_body(each).get(name, "-") for name in taken),
        )
        for each in run
    ]
    yield PlainTable(heads, rows)
    for group in by_cause(run):
        yield ""
        worst = max(group, key=lambda pair: pair[1].excess_mm)
        found = ", ".join(size.size for size, _ in group)
        amounts = sorted({length(each.excess_mm, unit) for _, each in group if each.excess_mm})
        off = f", off by {amounts[0]} to {amounts[-1]}" if len(amounts) > 1 else ""
        which = "size" if len(group) == 1 else "sizes"
        yield said(f"Open in {which} {found}{off}: {', '.join(c.id for _, c in group)}")
        yield said(f"  {worded(worst[1].says, unit).removesuffix('.')}.")
    yield ""
    yield said("Next, print them over each other, or see how they grow:")
    yield command(commands.line("sheet", node, f"{node}.pdf", "--sizes"))
    yield command(commands.line("compare", node, "--sizes"))


def by_cause(run: Sequence[SizeOf]) -> list[list[tuple[SizeOf, ConflictRecord]]]:
    """Return the open conflicts of sizes, those of one cause together: one place and one step."""
    groups: dict[tuple[str, ...], list[tuple[SizeOf, ConflictRecord]]] = {}
    for size in run:
        for each in size.node.open_conflicts:
            groups.setdefault((*each.key, each.change), []).append((size, each))
    return list(groups.values())


def growth_lines(node: str, found: RunGrowth, unit: Unit) -> Iterator[RenderableType]:
    """Yield how much each measure grows from size to size, and where that is not even."""
    names = [each.size for each in found.sizes]
    steps = [f"{one} -> {two}" for one, two in pairwise(names)]
    yield said(f"How {node} grows from size to size, beside the {found.by}", "bold")
    body = [b - a for a, b in pairwise(found.body)]
    rows = [(found.by, *(_step(each, unit) for each in body))]
    rows += [(each.measure, *_marked(each, unit)) for each in found.measures]
    yield PlainTable(("measure", *steps), rows)
    yield ""
    if not found.uneven:
        yield said("It grows evenly: every measure by as much for as much of the body.")
        return
    count = len(found.uneven)
    yield said(
        f"{count} measure{' does' if count == 1 else 's do'} not grow evenly; ! marks the step "
        "that is another than the rest for as much of the body."
    )


def _marked(growth: Growth, unit: Unit) -> Iterator[str]:
    for place, step in enumerate(growth.steps, 1):
        yield f"{_step(step, unit)}{' !' if place in growth.uneven else ''}"


def _step(mm: float | None, unit: Unit) -> str:
    if mm is None:
        return "-"
    shown = length(mm, unit)
    return shown if shown.startswith("-") else f"+{shown}"


def _body(size: SizeOf) -> dict[str, str]:
    return size.block.draft.body if size.block.draft else {}
