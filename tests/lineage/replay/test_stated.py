"""What is stated of a draft arrives below like any correction, and follows those beneath it."""

import pytest

from tests.lineage.making import Bench, block, change, child, pattern, state, step, verdicts
from trueup.lineage.files.records import Role
from trueup.lineage.replay.verdicts import Verdict

LOOSE = step("u1", "unpick", Role.CORRECTION, seam="side-seam")
STATED = (
    {"kind": "leave-free", "edge": "front.side"},
    {"kind": "state-level", "piece": "back", "name": "ribs", "at": "40mm below underarm"},
    {"kind": "state-grain", "edge": "front.centre", "degrees": 45},
    {"kind": "state-join", "edge": "front.hem", "to": "back.hem", "apart": True},
    {"kind": "sew-together", "line": "front.side", "to": "back.side", "name": "side-seam"},
)


def made(told: dict[str, object]) -> object:
    values = {name: value for name, value in told.items() if name != "kind"}
    return change(str(told["kind"]), **values)


@pytest.mark.parametrize("told", STATED, ids=lambda told: told["kind"])
def test_it_arrives_in_what_derives_and_opens_no_conflict(told: dict[str, object]) -> None:
    low = child("low", step("l1", "lower-neck", piece="front", by="20mm"))
    wide = child("wide", step("w1", "add-ease", by="20mm"), of="low")
    bench = Bench(state(block("village", LOOSE), low, wide))
    bench.correct("village", made(told))
    assert verdicts(bench) == {"low": Verdict.CARRIED, "wide": Verdict.CARRIED}
    assert bench.state.open_conflicts == ()


@pytest.mark.parametrize("told", STATED[:2] + STATED[3:4], ids=lambda told: told["kind"])
def test_taken_out_again_all_is_as_it_was(told: dict[str, object]) -> None:
    bench = Bench(state(block("village", LOOSE), child("low")))
    before = bench.evaluator.summary("low").fingerprint
    bench.correct("village", made(told))
    assert bench.evaluator.summary("low").fingerprint != before
    bench.drop("village", bench.state.node("village").steps[-1].id)
    assert bench.evaluator.summary("low").fingerprint == before


def test_said_of_a_pattern_first_and_then_of_its_block_it_is_said_once() -> None:
    free = step("f1", "leave-free", edge="front.side")
    bench = Bench(state(block("village", LOOSE), child("low", free)))
    before = bench.evaluator.summary("low").fingerprint
    bench.correct("village", change("leave-free", edge="front.side"))
    assert bench.evaluator.summary("low").fingerprint == before
    assert bench.state.open_conflicts == ()
    assert bench.evaluator.summary("village").unsewn == ("back.side",)


def test_a_level_of_a_pattern_goes_down_with_the_corner_it_is_measured_from() -> None:
    ribs = step("r1", "state-level", piece="back", name="ribs", at="40mm below underarm")
    bench = Bench(state(block(), child("low", ribs)))
    (was,) = (e.y for e in bench.evaluator.draft("low").piece("back").levels if e.name == "ribs")
    corner = bench.evaluator.draft("low").piece("back").corner("underarm")
    bench.correct("village", change("lower-armhole", by="12mm"))
    draft = bench.evaluator.draft("low").piece("back")
    moved = draft.corner("underarm").imag - corner.imag
    assert moved > 5
    assert draft.level("ribs").y - was == pytest.approx(moved)


def test_a_verdict_tells_the_lines_that_nothing_is_said_of() -> None:
    bench = Bench(state(block("village", LOOSE), child("low")))
    found = bench.correct("village", change("shorten-shoulder", by="5mm"))
    assert found.unchecked == ("front.side", "back.side")
    assert pattern(found, "low").unchecked == found.unchecked


def test_a_step_that_names_a_seam_that_was_unpicked_beneath_is_left_out_and_asked_about() -> None:
    eased = child("low", step("e1", "state-ease", seam="side-seam", low="0mm", high="9mm"))
    bench = Bench(state(block(), eased))
    bench.correct("village", change("unpick", seam="side-seam"))
    conflict = bench.conflict_at("low")
    assert (conflict.kind.value, conflict.change) == ("missing", "e1")
