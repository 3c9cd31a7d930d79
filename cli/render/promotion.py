"""A promotion on the page: whether the pattern comes out as it was, and what all others gain."""

from collections.abc import Iterator

from rich.console import RenderableType

from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.render.became import replay_lines
from trueup.cli.render.table import PlainTable
from trueup.cli.wording.kinds import subject_in_words
from trueup.geometry.units import Unit, in_unit
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.promotion.promoting import Outcome, Promotion

_SEEN = 0.005  # mm; less is printed as nothing


def promotion_lines(
    made: Promotion,
    unit: Unit,
    commands: CommandLine,
    commit: str | None,
    *,
    is_refused: bool = False,
) -> Iterator[RenderableType]:
    """Yield a promotion that was recorded as `commit`, previewed, or refused for its outcome."""
    edit = made.proposal.edit
    yield said(subject_in_words(edit.subject), "bold")
    yield said(f"Recorded as {commit[:10]}." if commit else "Nothing is written.")
    for step in edit.steps:
        yield said(f"At {edit.node}: {step_in_words(step, unit)} ({step.id}).")
    yield ""
    yield from outcome_lines(made.outcome, unit)
    if is_refused:
        return
    yield ""
    yield from replay_lines(made.proposal.replay, unit, None if commit is None else commands)
    if commit is None:
        return
    yield ""
    fresh = made.proposal.replay.arisen
    if fresh and fresh[0].remedies:
        yield said("Next, settle the first conflict:")
        yield command(commands.decide(fresh[0].id, fresh[0].remedies[0].name))
    else:
        yield said("Next, check it:")
        yield command(commands.line("check", edit.node))


def outcome_lines(outcome: Outcome, unit: Unit) -> Iterator[RenderableType]:
    """Yield what becomes of the pattern the correction leaves, edge by edge where it differs."""
    if outcome.is_exact:
        yield said(f"{outcome.node} comes out exactly as it was.")
        return
    if outcome.is_as_drawn:
        yield said(f"{outcome.node} comes out as it was: nothing moves by 0.01 mm.")
        return
    found = outcome.difference
    rows = [
        (name, *(_finely(each, unit) for each in (moved, before, after)))
        for name, moved, before, after in (
            *((e.edge, e.moved, e.before, e.after) for e in found.edges),
            *((d.dart, d.moved, d.before, d.after) for d in found.darts),
        )
        if not _is_the_same(moved, before, after)
    ]
    unseen = "" if rows else ", though no line moves by 0.01 mm"
    yield said(f"{outcome.node} comes out different{unseen}:")
    if rows:
        heads = ("edge or dart", "moves up to", "length or intake before", "after")
        yield PlainTable(heads, rows, right=heads[1:])
    for other in found.others:
        yield said(f"{'Also different' if rows else 'Different'}: {other}.")


def _is_the_same(moved: float | None, before: float | None, after: float | None) -> bool:
    """Return whether nothing would be seen of a difference, though there is one."""
    if before is None or after is None:
        return False
    return max(moved or 0.0, abs(after - before)) < _SEEN


def _finely(mm: float | None, unit: Unit) -> str:
    """Return a length to a hundredth of a mm: what differs is often below a unit's own finest."""
    if mm is None:
        return "-"
    digits = 2 if unit is Unit.MILLIMETRE else 3
    return f"{in_unit(mm, unit):.{digits}f} {unit.value}"
