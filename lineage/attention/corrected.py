"""The last correction that stands, and what has become of it by now in every pattern below.

A verdict is of the day the correction was made: what was in conflict then may have been settled,
accepted or decided since, and is told of as it stands now.
"""

from collections.abc import Iterable, Iterator, Mapping
from enum import StrEnum
from typing import TYPE_CHECKING

from msgspec import Struct

from trueup.lineage.chronicle.chronicle import Chronicle
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.files import graph
from trueup.lineage.files.records import ConflictRecord, ConflictState
from trueup.lineage.files.state import State
from trueup.lineage.replay.verdicts import Verdict

if TYPE_CHECKING:
    from trueup.lineage.replay.replay import PatternReplay

REMEASURED = "remeasure"
CORRECTING = ("correct", REMEASURED)


class ByNow(StrEnum):
    """What has become of a verdict since the correction was made.

    `judged` is as it was judged; `waits` has a conflict of its own that is open, `above` one that
    arose above it; `accepted` was decided to be left, `settled` holds again; `held` stays since on
    an earlier version of its parent, `follows` stayed on one and does no longer.
    """

    JUDGED = "judged"
    WAITS = "waits"
    ABOVE = "above"
    ACCEPTED = "accepted"
    SETTLED = "settled"
    HELD = "held"
    FOLLOWS = "follows"


class CameOut(Struct, frozen=True):
    """What became of a correction in a pattern: the verdict of the day, and what it is by now."""

    verdict: Verdict
    by_now: ByNow


def last_correction(chronicle: Chronicle, state: State) -> Entry | None:
    """Return the last correction, or re-measuring, that stands in a wardrobe; None for none.

    One that was taken back, or whose steps are all out of their chain, does not count.
    """
    made = (each for each in chronicle.entries() if each.verb in CORRECTING)
    return next((each for each in made if _stands(each, state)), None)


def _stands(entry: Entry, state: State) -> bool:
    node = state.nodes.get(entry.node)
    if node is None or entry.taken_back_by is not None:
        return False
    return entry.verb == REMEASURED or any(node.step(each) for each in entry.step_ids)


def came_out(entry: Entry, state: State) -> Mapping[str, CameOut]:
    """Return what became of a correction by now in each pattern below it that is still there."""
    records = {each.id: each for each in state.conflicts}
    return {
        each.name: CameOut(each.verdict, _by_now(each, state, records))
        for each in entry.effect.patterns
        if each.name in state.nodes
    }


def _by_now(judged: "PatternReplay", state: State, records: Mapping[str, ConflictRecord]) -> ByNow:
    own = set(_states((each.id for each in judged.conflicts), records))
    if ConflictState.OPEN in own:
        return ByNow.WAITS
    if judged.verdict is Verdict.HELD:
        return ByNow.JUDGED if _is_held(state, judged.name) else ByNow.FOLLOWS
    if ConflictState.OPEN in _states(judged.inherits, records):
        return ByNow.ABOVE
    if ConflictState.ACCEPTED in own:
        return ByNow.HELD if _is_held(state, judged.name) else ByNow.ACCEPTED
    in_conflict = judged.conflicts or judged.verdict is Verdict.CONFLICT
    return ByNow.SETTLED if in_conflict else ByNow.JUDGED


def _states(ids: Iterable[str], records: Mapping[str, ConflictRecord]) -> Iterator[ConflictState]:
    """Yield how conflicts stand; one that is recorded no more has been settled."""
    for each in ids:
        yield records[each].state if each in records else ConflictState.SETTLED


def _is_held(state: State, name: str) -> bool:
    """Return whether a node, or one that it derives from, stays on an earlier version."""
    above = graph.lineage_of(state.nodes, name)
    return any(parent.hold for each in above for parent in state.nodes[each].followed)
