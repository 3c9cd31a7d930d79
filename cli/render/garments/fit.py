"""A fitting made from what was pinned, on the page."""

from collections.abc import Iterator

from rich.console import RenderableType
from rich.padding import Padding
from rich.text import Text

from trueup.cli.amounts import before_and_after
from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.proposed import correction_line
from trueup.cli.render.table import PlainTable
from trueup.geometry.units import Unit
from trueup.lineage.diagnosis.fit_from import Fit, PinnedCorrection


def fit_lines(
    fit: Fit, unit: Unit, commands: CommandLine, file: str | None
) -> Iterator[RenderableType]:
    """Yield each correction with its reason and effect, then the fitting or where it lies."""
    yield from correction_lines(fit, unit, commands)
    yield ""
    if file is None:
        yield said("All of it as one step: save this fitting, or give --write FILE.")
        yield from map(as_it_stands, fit.text.splitlines())
        return
    yield said(f"The fitting is written to {file}. See what it would do, as one step:")
    yield command(commands.line("correct", fit.node, "--from", file, "--preview"))


def correction_lines(
    fit: Fit, unit: Unit, commands: CommandLine | None
) -> Iterator[RenderableType]:
    """Yield each correction with its reason and effect, and with `commands` how it is tried."""
    of = "" if fit.node == fit.pattern else f", from a garment of {fit.pattern}"
    yield said(f"A fitting for {fit.node}{of}; nothing is recorded.", "bold")
    for number, each in enumerate(fit.corrections, 1):
        yield from _correction(number, each, fit, unit, commands)


def as_it_stands(line: str) -> Text:
    """Return a line of a file, which is never wrapped, so that it can be copied."""
    text = said(line)
    text.no_wrap, text.overflow = True, "ignore"
    return text


def _correction(
    number: int, each: PinnedCorrection, fit: Fit, unit: Unit, commands: CommandLine | None
) -> Iterator[RenderableType]:
    pins = " and ".join(pin.said(unit) for pin in each.pins)
    yield ""
    yield said(f"{number}. {pins}: {each.reason}.")
    if commands is not None:
        yield command(correction_line(commands, fit.node, each.change.kind, each.values))
    rows = [(e.measure, before_and_after(e.before_mm, e.after_mm, unit)) for e in each.effects]
    if rows:
        yield Padding(PlainTable(("measure", "before and after"), rows), (0, 0, 0, 2))
    shaped = each.origin
    if shaped is not None and each.is_above:
        where = f"with --on {shaped.node}" if commands else f"where {shaped.node} is corrected"
        yield Padding(
            said(
                f"The line got its shape at {shaped.node}: a fault of that is mended for all below "
                f"it {where}."
            ),
            (0, 0, 0, 2),
        )
