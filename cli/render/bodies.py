"""Bodies on the page: what was measured, day beside day, and what follows from it."""

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from rich.console import RenderableType

from trueup.cli.amounts import difference, length
from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.render.table import PlainTable
from trueup.cli.wording.cautions import CHILDREN
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.bodies.following import (
    Following,
    following,
    garments_of_body,
    older_measurements,
    patterns_of_body,
)
from trueup.lineage.bodies.growing import may_be_a_child
from trueup.lineage.files.bodies.known import known_of
from trueup.lineage.files.bodies.records import BodyRecord, MeasurementSet
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.files.state import State

if TYPE_CHECKING:
    from trueup.lineage.bodies.recording import Recording

MOST_DAYS = 6
"""Sets shown beside each other; a page is not wide enough for more."""


def recorded_lines(
    recording: "Recording", commit: str, state: State, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield what was written down, the body as it is now known, and what comes next."""
    yield said(recording.says, "bold")
    yield said(f"Recorded as {commit[:10]}.")
    yield ""
    yield from body_lines(recording.body, state, commands)


def body_lines(body: BodyRecord, state: State, commands: CommandLine) -> Iterator[RenderableType]:
    """Yield what was measured of a body over time, what follows from it, and what comes next."""
    yield said(f"{body.wearer} ({body.path})", "bold")
    yield from measured_lines(body, state)
    found = following(state, body.name)
    yield ""
    yield from followed_lines(body, state, found)
    if may_be_a_child(body, state.unit):
        yield said(CHILDREN)
    yield ""
    yield from _next(body, found, commands)


def measured_lines(body: BodyRecord, state: State) -> Iterator[RenderableType]:
    """Yield a row for each measurement with a column a day, and what else is said of each day."""
    if not body.sets:
        yield said("Nothing was measured yet.")
        return
    shown = body.sets[-MOST_DAYS:]
    if len(shown) < len(body.sets):
        yield said(f"The latest {len(shown)} of {len(body.sets)} sets of measurements:")
    names = dict.fromkeys(name for each in reversed(shown) for name in each.taken)
    heads = ("measurement", *(each.date.isoformat() for each in shown))
    yield PlainTable(heads, [(name, *_over_time(body, name, shown, state.unit)) for name in names])
    for each in shown:
        said_of = list(_said_of(each))
        if said_of:
            yield said(f"{each.date}: {'; '.join(said_of)}")


def all_measured_lines(state: State) -> Iterator[RenderableType]:
    """Yield of every body what was measured of it, and what follows from it."""
    for _, body in sorted(state.bodies.items()):
        yield said(body.wearer, "bold")
        yield from measured_lines(body, state)
        yield from followed_lines(body, state, following(state, body.name))


def _over_time(
    body: BodyRecord, name: str, shown: Sequence[MeasurementSet], unit: Unit
) -> Iterator[str]:
    """Yield a measurement on each of some days, with what changed since it was taken last."""
    for each in shown:
        text = each.taken.get(name)
        if text is None:
            yield "-"
            continue
        mm = parse_length(text, unit)
        earlier = [s.taken[name] for s in body.sets if s.date < each.date and name in s.taken]
        changed = difference(parse_length(earlier[-1], unit), mm, unit) if earlier else ""
        yield f"{length(mm, unit)} ({changed})" if changed else length(mm, unit)


def _said_of(each: MeasurementSet) -> Iterator[str]:
    if each.taken_by:
        yield f"by {each.taken_by}"
    if each.age is not None:
        yield f"aged {each.age}"
    if each.words:
        yield each.words


def followed_lines(
    body: BodyRecord, state: State, found: Iterable[Following]
) -> Iterator[RenderableType]:
    """Yield the blocks that are drafted for a body, and the patterns and garments below them."""
    any_block = False
    for each in found:
        any_block = True
        yield said(follows(each))
    if not any_block:
        yield said(f"No block is drafted for {body.wearer}.")
    for what, names in (
        ("Derived from it", patterns_of_body(state, body)),
        ("Cut from it or worn", [each.name for each in garments_of_body(state, body)]),
    ):
        if names:
            yield said(f"{what}: {', '.join(names)}.")


def follows(found: Following) -> str:
    """Return in a sentence from which set a block is drafted, and what of it waits."""
    start = f"{found.block} is drafted for {found.body} of {found.measured}"
    if not found.waiting:
        return f"{start} and follows what is known of it."
    return f"{start} and {waits(found)}"


def waits(found: Following) -> str:
    """Return what of a block waits for what was measured of its body, to follow a subject."""
    told = ", ".join(each.words for each in found.waiting)
    return f"does not follow yet what is known as of {found.since}: {told}."


def waiting_lines(found: Sequence[Following], commands: CommandLine) -> Iterator[RenderableType]:
    """Yield the blocks that wait for what was measured, and how the first of them follows."""
    for each in found:
        yield said(f"{each.block} (drafted for {each.body}) {waits(each)}", "yellow")
    if found:
        yield said("To see what following it would do:")
        yield command(commands.line("remeasure", found[0].block, "--preview"))


def list_lines(state: State, commands: CommandLine) -> Iterator[RenderableType]:
    """Yield all bodies, a row each, and what comes next."""
    if not state.bodies:
        yield said("Nothing was measured of anybody yet.")
        yield said("Write down what was:")
        yield command(commands.line("body", "WEARER", "--bust", "92cm", "--waist", "70cm"))
        return
    heads = ("wearer", "file", "sets", "latest", "blocks")
    yield PlainTable(heads, [_row(state.bodies[name], state) for name in sorted(state.bodies)])


def _row(body: BodyRecord, state: State) -> tuple[str, ...]:
    blocks = [
        f"{each.block} (waits)" if each.waiting else each.block
        for each in following(state, body.name)
    ]
    latest = known_of(body).date.isoformat() if body.sets else "-"
    return body.wearer, body.path, str(len(body.sets)), latest, ", ".join(blocks) or "-"


def _next(
    body: BodyRecord, found: Sequence[Following], commands: CommandLine
) -> Iterator[RenderableType]:
    waiting = [each for each in found if each.waiting]
    if waiting:
        yield said(f"Next, see what it would do to {waiting[0].block} to follow it:")
        yield command(commands.line("remeasure", waiting[0].block, "--preview"))
    elif not found:
        yield said("Next, draft a block:")
        yield command(commands.line("draft", "NAME", "--for", body.name))
    else:
        yield said("Next, read what was measured, and what followed from it:")
        yield command(commands.line("history", "--body", body.name))


def taken_lines(state: State, node: NodeRecord) -> Iterator[RenderableType]:
    """Yield what is to be known of the measurements that a block was just drafted from."""
    of = node.drafted_for
    body = state.bodies.get(of.body) if of else None
    if of is None or body is None:
        return
    earlier = older_measurements(state, node)
    if earlier:
        told = ", ".join(f"{name} ({day})" for name, day in earlier.items())
        yield said(f"Not measured on {of.measured}, and taken as it was measured last: {told}.")
    if may_be_a_child(body, state.unit):
        yield said(CHILDREN)
