"""Bring a node's recorded conflicts up to what was found after a step. Pure.

A collision that a step brought about opens a conflict where it arose. One that is no longer found
is settled; an acceptance holds until the collision becomes worse.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from trueup.geometry.pieces.side import unsided
from trueup.geometry.sides.naming import read_at
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.files.records import (
    ConflictKind,
    ConflictRecord,
    ConflictState,
    Decision,
    NodeRecord,
    StepRecord,
    replace,
)
from trueup.lineage.replay import accepting
from trueup.lineage.replay import collisions as found_by
from trueup.lineage.replay.by_side import told_by_side
from trueup.lineage.replay.collisions import Collision, Key
from trueup.lineage.replay.curing import remedies
from trueup.lineage.replay.curing.cures import Trials
from trueup.lineage.replay.naming import conflict_id

BY_DECISION_ONLY = (ConflictKind.DOUBLED, ConflictKind.BOTH_SHAPED, ConflictKind.TWO_MAKERS)
"""What is not found in the drafts: it stands until it is decided, or one of its steps is gone."""


@dataclass(frozen=True)
class Cause:
    """What set a replay off: steps made, amended or taken out at a node, on a version `since`.

    `is_style` steps collide at their own node by the maker's intent: only `check` speaks of them.
    """

    node: str
    steps: tuple[StepRecord, ...]
    since: str
    is_style: bool = False

    @property
    def step_ids(self) -> str:
        """Return the ids of the steps in one text."""
        return " ".join(step.id for step in self.steps)


@dataclass(frozen=True)
class Books:
    """A node's conflicts after a step, those it opened or made worse, and those inherited.

    `inherited` are the keys of collisions that arose at a parent and were taken over as they are.
    """

    conflicts: tuple[ConflictRecord, ...]
    touched: tuple[ConflictRecord, ...]
    inherited: tuple[Key, ...]

    def with_conflicts(self, extra: tuple[ConflictRecord, ...]) -> "Books":
        """Return books with conflicts added, or put up to date where they are known by their id."""
        known = {record.id: record for record in self.conflicts}
        for record in extra:
            old = known.get(record.id)
            if old:
                again = replace(record, decisions=old.decisions)
                known[record.id] = accepting.covered(old, record) or again
            else:
                known[record.id] = record
        were_open = {c.id for c in self.conflicts if c.state is ConflictState.OPEN}
        touched = tuple(
            known[record.id]
            for record in extra
            if record.id not in were_open and known[record.id].state is ConflictState.OPEN
        )
        return Books(tuple(known.values()), (*self.touched, *touched), self.inherited)


def books_after(
    node: NodeRecord,
    before: Summary | None,
    after: Summary,
    parents: Sequence[Summary],
    trials: Trials | None,
    cause: Cause,
    is_past: Callable[[ConflictRecord], bool],
    beside: Summary | None = None,
) -> Books:
    """Return the node's conflicts after a step, given its summaries before and after.

    `is_past` tells of a conflict whether the correction that brought it is no longer there;
    `beside` is the node in the other version that was joined: what it brought is not news.
    """
    fresh = {c.key: c for c in found_by.new_or_worse(before, after)}
    if beside is not None:
        news_there = {c.key for c in found_by.new_or_worse(beside, after)}
        fresh = {key: c for key, c in fresh.items() if key in news_there}
    if cause.is_style and node.name == cause.node:
        fresh = {}
    standing = found_by.collisions(after)
    from_above = {k for k, c in fresh.items() if not found_by.arose_here(c, after, parents)}
    kept: list[ConflictRecord] = []
    touched: list[ConflictRecord] = []
    for record in told_by_side(node.name, node.conflicts, standing):
        collision = standing.get(record.key)
        opens = record.key in fresh.keys() - from_above
        updated = _updated(record, collision, opens, node, is_past)
        if updated is None and collision is not None:
            updated = _opened(node, collision, before, after, trials, cause, record)
            if not _says_so_already(record, collision):
                touched.append(updated)
        kept.append(updated or record)
    known = {r.key for r in kept if r.key not in from_above or r.state is not ConflictState.SETTLED}
    for key, collision in fresh.items():
        if key not in known and key not in from_above:
            record = _opened(node, collision, before, after, trials, cause)
            kept.append(record)
            touched.append(record)
    inherited = (key for key in fresh if key in from_above - known)
    return Books(tuple(kept), tuple(touched), tuple(inherited))


def _updated(
    record: ConflictRecord,
    collision: Collision | None,
    opens: bool,
    node: NodeRecord,
    is_past: Callable[[ConflictRecord], bool],
) -> ConflictRecord | None:
    """Return a standing record as it is now, None when it has to be opened with new numbers."""
    if record.state is ConflictState.ACCEPTED and remedies.holds(record):
        return record
    if record.kind in BY_DECISION_ONLY:
        has_step = not record.change or node.step(record.change) is not None
        stands = has_step and not is_past(record)
        return record if stands else replace(record, state=ConflictState.SETTLED, remedies=())
    if collision is None:
        return replace(record, state=ConflictState.SETTLED, remedies=())
    match record.state:
        case ConflictState.ACCEPTED:
            changed = not found_by.still_accepted(record, collision)
        case ConflictState.SETTLED:
            changed = opens
        case ConflictState.OPEN:
            changed = collision.says != record.says or not record.remedies
    if not changed:
        return record
    # What was gone and came back is asked about anew; what got worse and is back was accepted so.
    waits = record.state is ConflictState.OPEN
    return accepting.accepted_again(record, collision) if waits else None


def _says_so_already(record: ConflictRecord, collision: Collision) -> bool:
    """Return whether an open conflict covers a collision, which may have become less."""
    is_open = record.state is ConflictState.OPEN and bool(record.remedies)
    return is_open and not collision.is_worse_than(record)


def _opened(
    node: NodeRecord,
    collision: Collision,
    before: Summary | None,
    after: Summary,
    trials: Trials | None,
    cause: Cause,
    record: ConflictRecord | None = None,
) -> ConflictRecord:
    """Return an open conflict for a collision; `record` is the one it opens again, if any."""
    was_open = record is not None and record.state is ConflictState.OPEN
    opened = record if was_open else None
    corrected = record.corrected if was_open and record else cause.node
    # What stood there before is known by the id it had as a finding.
    stood = before and found_by.found_at(found_by.collisions(before), collision.key)
    made = conflict_id(node.name, collision.kind, collision.key, "" if stood else cause.step_ids)
    return record_of(
        node,
        collision,
        after,
        trials,
        known_as=record.id if record else made,
        correction=record.correction if was_open and record else cause.step_ids,
        corrected=corrected,
        ease_before=_ease_before(collision, collision.section, before, opened),
        whole_before=_ease_before(collision, "", before, opened),
        length_before=_length_before(collision, before),
        since=record.since if was_open and record else cause.since,
        came_from_above=before is not None and corrected != node.name,
        decisions=record.decisions if record else (),
    )


def record_of(
    node: NodeRecord,
    collision: Collision,
    summary: Summary,
    trials: Trials | None,
    *,
    known_as: str,
    correction: str = "",
    corrected: str = "",
    ease_before: float | None = None,
    whole_before: float | None = None,
    length_before: float | None = None,
    since: str = "",
    came_from_above: bool = False,
    decisions: tuple[Decision, ...] = (),
) -> ConflictRecord:
    """Return an open conflict for a collision at a node, with its numbers and its remedies.

    Without `trials` it has none of these. `correction`, made at the node `corrected` on the version
    `since`, is what brought it about, where one did.
    """
    measured = None if "kink" in collision.code else collision.measured_mm
    return ConflictRecord(
        id=known_as,
        kind=collision.kind,
        arose_at=node.name,
        piece=collision.piece,
        edge=collision.edge,
        own_name=collision.own_name,
        code=collision.code,
        says=collision.says,
        correction=correction,
        corrected=corrected,
        change=found_by.own_change(collision, summary, [step.id for step in node.steps]),
        before_mm=_hundredths(ease_before),
        after_mm=_hundredths(measured),
        allowed_mm=_hundredths_of(collision.allowed_mm),
        excess_mm=round(collision.excess, 2),
        section=collision.section,
        whole_before_mm=_hundredths(whole_before) if collision.section else None,
        since=since,
        remedies=remedies.for_collision(
            collision,
            node,
            trials,
            whole_before,
            length_before=length_before,
            came_from_above=came_from_above,
        )
        if trials
        else (),
        decisions=decisions,
    )


def _ease_before(
    collision: Collision, section: str, before: Summary | None, record: ConflictRecord | None
) -> float | None:
    """Return what a seam, or a section of it, held before; an open record of that knows it."""
    if record is not None and section in (record.section, ""):
        return record.before_mm if record.section == section else record.whole_before
    if before is None or collision.kind is not ConflictKind.SEAM:
        return None
    place = (collision.piece, collision.edge)
    # A seam that is parted now may have been alike on both sides.
    places = (place, (unsided(collision.piece), collision.edge))
    walked = (s for each in places for s in before.seams.values() if s.place == each)
    return next((seam.ease(section) for seam in walked), None)


def _length_before(collision: Collision, before: Summary | None) -> float | None:
    """Return how long the line was before at which a collision is told of, mm."""
    place = f"{collision.piece}.{collision.edge}"
    return None if before is None else read_at(before.measures, place)


def _hundredths(value: float | None) -> float | None:
    """A conflict's numbers are for reading: hundredths of a millimetre are enough on file."""
    return None if value is None else round(value, 2) + 0.0


def _hundredths_of(values: tuple[float, float] | None) -> tuple[float, float] | None:
    return None if values is None else (round(values[0], 2) + 0.0, round(values[1], 2) + 0.0)
