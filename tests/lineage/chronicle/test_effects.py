"""What a version that joined others noted, from literals."""

from tests.lineage.making import block, state
from trueup.lineage.chronicle.effects import noted
from trueup.lineage.chronicle.replayed import as_edited
from trueup.lineage.files.records import (
    ConflictKind,
    ConflictRecord,
    ConflictState,
    Decision,
    replace,
)
from trueup.lineage.files.state import State

OPEN = ConflictRecord("seam-1", ConflictKind.SEAM, "village", "sleeve", "cap", "seam", "too short")
SETTLED = replace(OPEN, state=ConflictState.SETTLED)
OTHER = replace(OPEN, id="seam-2", edge="hem")


def with_conflicts(*conflicts: ConflictRecord) -> State:
    return state(replace(block(), conflicts=conflicts))


def test_a_join_brought_only_what_neither_side_had() -> None:
    found = noted([with_conflicts(OPEN), with_conflicts()], with_conflicts(OPEN, OTHER))
    assert [each.id for each in found.opened] == ["seam-2"]
    assert found.settled == ()


def test_a_join_settled_only_what_no_side_had_settled() -> None:
    mended = noted([with_conflicts(OPEN), with_conflicts(OPEN)], with_conflicts(SETTLED))
    assert [each.id for each in mended.settled] == ["seam-1"]
    taken = noted([with_conflicts(OPEN), with_conflicts(SETTLED)], with_conflicts(SETTLED))
    assert taken.settled == ()


def test_a_step_is_judged_with_the_conflicts_it_met() -> None:
    before, after = with_conflicts(OPEN), with_conflicts(SETTLED, OTHER)
    assert as_edited(before, after, "").nodes["village"].conflicts == (OPEN,)
    decided = replace(SETTLED, decisions=(Decision("accept"),))
    at_decision = as_edited(before, with_conflicts(decided, OTHER), "village")
    assert at_decision.nodes["village"].conflicts == (decided,)


def test_a_new_node_met_no_conflict() -> None:
    after = as_edited(state(), with_conflicts(OPEN), "")
    assert after.nodes["village"].conflicts == ()
