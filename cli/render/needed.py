"""What needs attention in one line each, in the trade's words, with what there is to say below."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from trueup.cli.render.bodies import waits
from trueup.cli.render.garments.seen import note_in_short
from trueup.cli.render.matters import matter
from trueup.cli.terminal.typesetting import upper_first
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.attention.held import StaysBehind
from trueup.lineage.bodies.following import Following
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.records import ConflictKind, ConflictRecord, Role, StepRecord
from trueup.lineage.files.state import State
from trueup.lineage.garments.since import ChangedStep, RemeasuredBlock, Since
from trueup.lineage.replay.standing import Standing

_MOST_STEPS = 2


def finding_title(node: str, found: Standing, unit: Unit) -> str:
    """Return where something does not hold, and what, as a conflict about it would say it."""
    kind = ConflictKind.SEAM if found.code.startswith("seam") else ConflictKind.SHAPE
    told = ConflictRecord(
        *(found.id, kind, node, found.piece, found.edge, found.code, found.says),
        after_mm=found.measured,
        allowed_mm=found.allowed,
    )
    return f"{node}: {matter(told, unit)}"


def met_by(conflict: ConflictRecord, state: State) -> str:
    """Return the correction that a conflict was met by: where, and what; empty if it is gone."""
    node = state.nodes.get(conflict.corrected)
    steps = [node.step(each) for each in conflict.correction.split()] if node else []
    found = [each for each in steps if each is not None]
    if not found:
        return ""
    return f"{conflict.corrected}: {_steps(found, state.unit)}"


def held_title(held: StaysBehind) -> str:
    """Return which pattern stays on which, and how much passes it by."""
    stays = f"{held.node}: stays on an earlier {held.parent}"
    if held.missed is None:
        return f"{stays}, which cannot be read any more"
    made = len(held.missed) + sum(max(len(each.made), 1) for each in held.blocks)
    if not made:
        return f"{stays}; nothing was corrected there since"
    times = {1: "a correction", 2: "two corrections"}.get(made, f"{made} corrections")
    return f"{stays}, and {times} since did not reach it"


def missed_words(held: StaysBehind, unit: Unit) -> str:
    """Return the corrections that passed a held pattern by; empty for none."""
    words = [*_changes(held.missed or (), unit), *_measured_anew(held.blocks)]
    return f"Not taken over: {'; '.join(words)}." if words else ""


def note_title(garment: GarmentRecord, note: FitNote, unit: Unit) -> str:
    """Return what was seen on a garment, where, and how much of it."""
    return f"{garment.name}: {note_in_short(note, unit)}"


def note_words(garment: GarmentRecord, note: FitNote) -> str:
    """Return from what the garment was cut, who wore it, when it was seen, and what was said."""
    wearer = note.wearer or garment.wearer
    worn = f", worn by {wearer}" if wearer else ""
    said = f": {note.words}" if note.words else ""
    return _sentence(f"Cut from {garment.pattern}{worn}, {note.date.isoformat()}{said}")


def outgrown_title(garment: GarmentRecord, became: Since, unit: Unit) -> str:
    """Return what a pattern has become since a garment was cut from it, or altered to it."""
    words = list(changes_in_words(became, unit))
    how = "Altered" if garment.altered_to else "Cut"
    return f"{how} before {'; '.join(words)}" if words else worded(became.says, unit)


def changes_in_words(became: Since, unit: Unit) -> Iterator[str]:
    """Yield what was done to a pattern since, at each node; decisions go with what they answer."""
    yield from _changes([e for e in became.steps if e.step.role is not Role.DECISION], unit)
    yield from _measured_anew(became.blocks)


def _changes(steps: Sequence[ChangedStep], unit: Unit) -> Iterator[str]:
    """Yield what was done at each node, in words: `village was corrected: hollow the armhole`."""
    for (node, how, for_fit), made in groupby(steps, key=_alike):
        what = "was corrected" if for_fit else "was changed"
        more = "" if how == "new" else f" ({how})"
        yield f"{node} {what}: {_steps([each.step for each in made], unit)}{more}"


def _alike(change: ChangedStep) -> tuple[str, str, bool]:
    return change.node, change.how, change.is_for_fit


def _measured_anew(blocks: Sequence[RemeasuredBlock]) -> Iterator[str]:
    yield from (f"{each.node} was drafted anew" for each in blocks)


def behind_title(found: Following) -> str:
    """Return which block does not follow its body, and in which measurements."""
    return f"{found.block}: drafted for {found.body}, {waits(found).removesuffix('.')}"


def _steps(steps: Sequence[StepRecord], unit: Unit) -> str:
    told = [step_in_words(each, unit) for each in steps[:_MOST_STEPS]]
    more = len(steps) - len(told)
    return ", ".join([*told, *([f"and {more} more"] if more else [])])


def _sentence(words: str) -> str:
    return f"{upper_first(words)}{'' if words[-1:] in '.!?' else '.'}" if words else ""
