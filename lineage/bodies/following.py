"""Which blocks follow what is measured of a body, and which of them do not yet. Pure."""

import datetime
from collections.abc import Iterator, Sequence

from msgspec import Struct

from trueup.lineage.files import graph
from trueup.lineage.files.bodies.known import AsOf, known_of
from trueup.lineage.files.bodies.naming import is_called
from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.files.state import State
from trueup.lineage.replay.drafted_anew.measurements import Remeasured, is_same_length


class Following(Struct, frozen=True):
    """A block that is drafted for a body, and from which of its sets.

    `waiting` are the measurements that are known otherwise by now than the block is drafted from,
    as of the day `since`.
    """

    block: str
    body: str
    measured: datetime.date
    since: datetime.date
    waiting: tuple[Remeasured, ...]


def following(state: State, body: str | None = None) -> tuple[Following, ...]:
    """Return the blocks that are drafted for bodies that are there, by name: all, or of one."""
    return tuple(_following(state, body))


def _following(state: State, body: str | None) -> Iterator[Following]:
    for name in sorted(name for name, kin in state.kin.items() if kin.for_body):
        node = state.nodes[name]
        of = node.drafted_for
        measured = state.bodies.get(of.body) if of else None
        if of is None or measured is None or not measured.sets or body not in (None, of.body):
            continue
        now = known_of(measured)
        yield Following(name, of.body, of.measured, now.date, _waiting(state, node, now))


def _waiting(state: State, node: NodeRecord, now: AsOf) -> tuple[Remeasured, ...]:
    standing = node.draft.body if node.draft else {}
    pairs = (
        (name, old, now.known[name].text) for name, old in standing.items() if name in now.known
    )
    return tuple(
        Remeasured(name, old, new)
        for name, old, new in pairs
        if not is_same_length(old, new, state.unit)
    )


def waiting(state: State) -> tuple[Following, ...]:
    """Return the blocks that do not follow yet what is known of the body they are drafted for."""
    return tuple(each for each in following(state) if each.waiting)


def of_lineage(found: Sequence[Following], state: State, node: str) -> tuple[Following, ...]:
    """Return those of some blocks that a node is, or derives from."""
    above = graph.lineage_of(state.nodes, node) if found else ()
    return tuple(each for each in found if each.block in above)


def older_measurements(state: State, node: NodeRecord) -> dict[str, datetime.date]:
    """Return which measurements of a block were taken before its set, and when."""
    of = node.drafted_for
    body = state.bodies.get(of.body) if of else None
    if of is None or body is None or body.set_of(of.measured) is None or node.draft is None:
        return {}
    return known_of(body, of.measured).older(list(node.draft.body))


def garments_of_body(state: State, body: BodyRecord) -> tuple[GarmentRecord, ...]:
    """Return the garments that a body's wearer wears, or that were cut from what follows it."""
    blocks = {each.block for each in following(state, body.name)}
    return tuple(
        garment
        for _, garment in sorted(state.garments.items())
        if _is_worn_by(garment, body) or _derives_from(state, garment.pattern, blocks)
    )


def _is_worn_by(garment: GarmentRecord, body: BodyRecord) -> bool:
    wearers = (garment.wearer, *(note.wearer for note in garment.notes))
    return any(is_called(body, each) for each in wearers if each)


def _derives_from(state: State, pattern: str, blocks: set[str]) -> bool:
    if not blocks or pattern not in state.nodes:
        return False
    return not blocks.isdisjoint(graph.lineage_of(state.nodes, pattern))


def patterns_of_body(state: State, body: BodyRecord) -> tuple[str, ...]:
    """Return the blocks and patterns that derive from what is drafted for a body, parents first."""
    found: set[str] = {each.block for each in following(state, body.name)}
    blocks = frozenset(found)
    for name in state.in_order:
        if any(parent.name in found for parent in state.nodes[name].parents):
            found.add(name)
    return tuple(name for name in state.in_order if name in found and name not in blocks)
