"""Merge the conflicts of one node and what was decided about them, by id. Pure."""

from collections.abc import Iterable, Iterator, Mapping

from trueup.lineage.files.records import (
    ConflictRecord,
    ConflictState,
    Decision,
    NodeRecord,
    Remedy,
    replace,
)
from trueup.lineage.merging.contradictions import decided_twice, parent_values
from trueup.lineage.merging.three_way import Sides, in_order, three_way
from trueup.lineage.replay.curing import names


def merge_conflicts(
    base: NodeRecord, ours: NodeRecord, theirs: NodeRecord, sides: Sides
) -> tuple[tuple[ConflictRecord, ...], tuple[ConflictRecord, ...]]:
    """Return the merged conflicts of a node, and the questions about what was decided in two ways.

    Decided in two ways, a conflict is open again and keeps both decisions.
    """
    before, mine, others = ({c.id: c for c in node.conflicts} for node in (base, ours, theirs))
    kept: dict[str, ConflictRecord] = {}
    questions: list[ConflictRecord] = []
    for name in in_order(before, mine, others):
        was, here, there = before.get(name), mine.get(name), others.get(name)
        if here and there:
            kept[name] = _both(was, here, there)
            if _decided_apart(was, here, there):
                undo = (_undo(base, ours, name, here), _undo(base, theirs, name, there))
                chosen = (here.decisions[-1].remedy, there.decisions[-1].remedy)
                questions.append(decided_twice(ours.name, kept[name], chosen, undo, sides))
        elif (one := here or there) is not None and one != was:
            kept[name] = one
    return tuple(_once(kept.values(), before)), tuple(questions)


def _both(
    was: ConflictRecord | None, here: ConflictRecord, there: ConflictRecord
) -> ConflictRecord:
    merged, agreed = three_way(was, here, there)
    if agreed and merged is not None:
        return merged
    decisions = (*here.decisions, *(d for d in there.decisions if d not in here.decisions))
    if _decided_apart(was, here, there):
        offered = was.remedies if was else _offered(here, there)
        return replace(here, state=ConflictState.OPEN, remedies=offered, decisions=decisions)
    only_theirs = _new(was, there) and not _new(was, here)
    return replace(there if only_theirs else here, decisions=decisions)


def _offered(here: ConflictRecord, there: ConflictRecord) -> tuple[Remedy, ...]:
    """Return the remedies still known of a conflict that both sides decided at once."""
    again = {r.name: r for r in (*here.remedies, *there.remedies) if r.name != names.FOLLOW}
    return tuple(again.values())


def _new(was: ConflictRecord | None, now: ConflictRecord) -> tuple[Decision, ...]:
    return tuple(d for d in now.decisions if was is None or d not in was.decisions)


def _decided_apart(was: ConflictRecord | None, here: ConflictRecord, there: ConflictRecord) -> bool:
    mine, others = _new(was, here), _new(was, there)
    return bool(mine and others) and mine[-1].remedy != others[-1].remedy


def _undo(
    base: NodeRecord, side: NodeRecord, conflict: str, record: ConflictRecord
) -> dict[str, object]:
    """Return what takes back what a side's decision did to the node, as values of a remedy."""
    taken: dict[str, object] = {}
    made = [s.id for s in side.steps if s.settles == conflict and base.step(s.id) is None]
    if made:
        taken["drop"] = made
    if record.decisions[-1].remedy == names.HOLD:
        held = [p for p in side.parents if p.hold and p.hold == record.since]
        was = {parent.name: parent for parent in base.parents}
        taken["parents"] = [parent_values(was.get(p.name, replace(p, hold=None))) for p in held]
    return taken


def _once(
    records: Iterable[ConflictRecord], before: Mapping[str, ConflictRecord]
) -> Iterator[ConflictRecord]:
    """Yield conflicts; of two new open ones about the same collision only the first by id."""
    every = tuple(records)
    for record in every:
        is_new = record.id not in before and record.state is ConflictState.OPEN
        twins = [
            other.id
            for other in every
            if is_new
            and other.id not in before
            and other.state is ConflictState.OPEN
            and (other.kind, other.key) == (record.kind, record.key)
        ]
        if not twins or record.id == min(twins):
            yield record
