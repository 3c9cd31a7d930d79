import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from tests.lineage.making import Bench, block, change, child, state
from trueup.geometry.measuring.finding import Finding, Severity
from trueup.geometry.said import said, text
from trueup.lineage.evaluation.summary import Problem, SeamWalk, Summary
from trueup.lineage.files.records import ConflictKind, ConflictRecord, ConflictState
from trueup.lineage.replay.collisions import (
    arose_here,
    collisions,
    new_or_worse,
    own_change,
    still_accepted,
    unsewn,
)

CAP = ("sleeve.cap", "front.armhole", "back.armhole")


def seam(side: float = 470.0, mate: float = 440.0, low: float = 25.0, high: float = 45.0):
    return SeamWalk(side, mate, low, high, CAP, ("sleeve", "cap"))


def finding(measured: float, code: str = "seam", severity: Severity = Severity.ERROR) -> Finding:
    return Finding(code, severity, "sleeve", "cap", measured, 25.0, 45.0, said("legs"), ())


def summary(*findings: Finding, problems=(), shaped=None, walked: SeamWalk | None = None):
    seams = {"armhole-seam": walked or seam()}
    return Summary("", {}, findings, tuple(problems), shaped or {}, seams, ("front", "back"))


def record(excess: float, state=ConflictState.ACCEPTED, after: float | None = None):
    return ConflictRecord(
        "seam-1", ConflictKind.SEAM, "blouse", "sleeve", "cap", "seam", "", excess_mm=excess,
        state=state, after_mm=after, allowed_mm=(25.0, 45.0),
    )  # fmt: skip


def only(of: Summary):
    (found,) = collisions(of).values()
    return found


def test_findings_and_left_out_steps_are_collisions_and_notes_are_none():
    problem = Problem("a1", "missing", "deepen-dart", text("no such dart"), "front", "bust")
    found = collisions(summary(finding(20.0), finding(9.0, "kink"), problems=[problem]))
    assert [c.kind for c in found.values()] == [
        ConflictKind.SEAM,
        ConflictKind.SHAPE,
        ConflictKind.MISSING,
    ]
    assert collisions(summary(finding(20.0, severity=Severity.NOTE))) == {}
    assert only(summary(finding(20.0))).excess == 5.0


@given(st.floats(-100, 24.9), st.floats(-100, 24.9))
def test_only_what_is_new_or_worse_speaks_up(was: float, now: float):
    found = new_or_worse(summary(finding(was)), summary(finding(now)))
    assert bool(found) == ((25.0 - now) > (25.0 - was) + 0.1)
    assert new_or_worse(summary(), summary(finding(now)))
    assert new_or_worse(None, summary(finding(now)))
    assert not new_or_worse(summary(finding(was)), summary())


def test_a_kink_may_turn_a_degree_more_before_it_is_worse():
    was = summary(finding(10.0, "kink"))
    assert not new_or_worse(was, summary(finding(10.0 - 0.9, "kink")))
    assert new_or_worse(was, summary(finding(10.0 - 1.1, "kink")))


def test_a_seam_that_was_too_long_and_is_now_too_short_is_new_trouble():
    assert new_or_worse(summary(finding(60.0)), summary(finding(20.0)))


def test_trouble_is_inherited_where_both_seam_lines_came_as_they_are():
    parent = summary(finding(20.0), walked=seam(460.0, 440.0))
    found = only(parent)
    same = summary(finding(20.0), walked=seam(460.0 + 0.025, 440.0))
    assert not arose_here(found, same, [parent])
    assert not arose_here(found, same, [summary(), parent])


@pytest.mark.parametrize(
    "walked",
    [seam(461.0, 440.0), seam(460.0, 441.0), seam(460.0, 440.0, 24.0), seam(460, 440, 25, 46)],
)
def test_trouble_is_a_nodes_own_where_it_changed_part_of_the_seam(walked: SeamWalk):
    parent = summary(finding(20.0), walked=seam(460.0, 440.0))
    assert arose_here(only(parent), summary(finding(20.0), walked=walked), [parent])


def test_trouble_no_parent_has_arose_here():
    assert arose_here(only(summary(finding(20.0))), summary(finding(20.0)), [summary()])
    assert arose_here(only(summary(finding(20.0))), summary(finding(20.0)), [])


def test_a_kink_is_inherited_unless_an_own_step_shaped_the_edge():
    parent = summary(finding(10.0, "kink"))
    found = only(parent)
    assert not arose_here(found, summary(finding(10.0, "kink")), [parent])
    assert arose_here(found, summary(shaped={"sleeve.cap": "a1"}), [parent])


def test_a_step_that_cannot_be_made_is_always_the_nodes_own():
    problem = Problem(
        "a1", "impossible", "scoop-armhole", text("too much"), "front", "armhole", 8.0
    )
    with_it = summary(problems=[problem])
    assert arose_here(only(with_it), with_it, [with_it])


def test_an_acceptance_holds_as_far_as_it_went_and_not_on_the_other_side():
    assert still_accepted(record(5.0, after=20.0), only(summary(finding(20.0))))
    assert still_accepted(record(5.0, after=20.0), only(summary(finding(24.0))))
    assert still_accepted(record(5.0, after=20.0), only(summary(finding(20.0 - 0.05))))
    assert not still_accepted(record(5.0, after=20.0), only(summary(finding(19.0))))
    assert not still_accepted(record(5.0, after=20.0), only(summary(finding(47.0))))
    assert not still_accepted(record(5.0, ConflictState.OPEN, 20.0), only(summary(finding(20.0))))


def test_the_own_change_in_a_collision_is_the_last_that_shaped_its_seam_lines():
    shaped = {"front.armhole": "a1", "sleeve.cap": "b2", "front.neck": "c3"}
    with_them = summary(finding(20.0), shaped=shaped)
    assert own_change(only(with_them), with_them, ["a1", "b2", "c3"]) == "b2"
    assert own_change(only(with_them), with_them, ["b2", "a1", "c3"]) == "a1"
    assert own_change(only(with_them), summary(), []) == ""
    problem = Problem("d4", "missing", "deepen-dart", text(""), "front", "bust")
    assert own_change(only(summary(problems=[problem])), summary(), []) == "d4"


def test_a_pocket_is_laid_on_a_piece_and_asks_for_no_seam() -> None:
    bench = Bench(state(block(), child("pattern")))
    pocket = {"edge": "front.centre", "level": "chest", "inside": "40mm", "width": "60mm",
              "height": "60mm", "side": "left"}  # fmt: skip
    bench.style("pattern", change("place-pocket", **pocket))
    summary = bench.evaluator.summary("pattern")
    assert "left-pocket" in summary.pieces
    assert unsewn(summary) == ()
    loose = replace(summary, laid_on=())
    assert unsewn(loose) == ("left-pocket",)
