"""Remedies with computed amounts, each tried out: what it promises is what it does."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.lineage.making import Bench, block, change, child, state, step
from trueup.lineage.files.records import ConflictState
from trueup.lineage.replay.collisions import collisions
from trueup.lineage.replay.curing.cures import Trials
from trueup.lineage.replay.curing.remedies import for_collision

EASE = "sleeve.cap-ease"


@given(st.integers(12, 24), st.sampled_from(["refit-cap", "refit-cap-height"]))
@settings(max_examples=12)
def test_refitting_meets_the_ease_from_before_and_moves_the_cap_by_its_amount(by: int, remedy: str):
    bench = Bench(state(block()))
    before = bench.measure("village", EASE)
    bench.correct("village", change("scoop-armhole", piece="front", by=f"{by}mm"))
    conflict = bench.conflict_at("village")
    amount = next(r.amount_mm for r in conflict.remedies if r.name == remedy)
    size = "sleeve.cap-height" if remedy == "refit-cap-height" else "sleeve.biceps-width"
    old = bench.measure("village", size)
    bench.decide(conflict, remedy)
    assert bench.measure("village", EASE) == pytest.approx(before, abs=0.1)
    assert bench.measure("village", size) - old == pytest.approx(amount, abs=0.05)
    assert bench.evaluator.summary("village").findings == ()
    assert bench.state.conflict(conflict.id).state is ConflictState.SETTLED


@pytest.mark.parametrize(("piece", "longer"), [("front", "back"), ("back", "front")])
def test_a_hem_is_lengthened_on_the_shorter_side_by_what_is_missing(piece: str, longer: str):
    bench = Bench(state(block(), child("blouse")))
    bench.correct("village", change("true-hem", piece=piece, by="-14mm"))
    conflict = bench.conflict_at("village")
    remedy = conflict.remedies[0]
    assert (remedy.name, remedy.amount_mm, remedy.values["piece"]) == (
        "true-hem",
        pytest.approx(14, abs=0.01),
        piece,
    )
    side = bench.measure("village", f"{longer}.side")
    bench.decide(conflict, "true-hem")
    assert bench.measure("village", "side-seam.ease") == pytest.approx(0, abs=1e-6)
    assert bench.measure("village", f"{longer}.side") == pytest.approx(side)
    assert bench.state.open_conflicts == ()


def test_a_gathered_cap_is_refitted_to_the_gathers_it_wants():
    puff = child("puff", step("p1", "raise-cap", by="25mm", gathers="80mm"))
    bench = Bench(state(block(), puff))
    before = bench.measure("puff", EASE)
    bench.correct("village", change("scoop-armhole", piece="front", by="24mm"))
    for conflict in bench.open_at("puff"):
        bench.decide(conflict, "refit-cap")
    walked = bench.evaluator.summary("puff").seams["armhole-seam"]
    assert walked.low <= walked.side - walked.mate <= walked.high
    assert bench.measure("puff", EASE) <= before + 0.1


def test_repeating_a_correction_on_an_own_line_brings_it_there():
    own = step("r1", "redraw-edge", edge="front.armhole", through="30%:20mm 70%:35mm")
    bench = Bench(state(block(), child("vest", own)))
    bench.correct("village", change("scoop-armhole", piece="front", by="5mm"))
    before = bench.measure("vest", "front.chest-width")
    conflict = bench.conflict_at("vest")
    assert conflict.remedies[0].amount_mm == 5.0
    bench.decide(conflict, "repeat-here")
    assert bench.measure("vest", "front.chest-width") < before - 3
    assert bench.state.conflict(conflict.id).state is ConflictState.SETTLED


def test_what_the_node_itself_was_given_cannot_be_held_away():
    bench = Bench(state(block(), child("easy"), child("blouse", of="easy")))
    bench.correct("easy", change("scoop-armhole", piece="front", by="20mm"))
    offered = [remedy.name for remedy in bench.conflict_at("easy").remedies]
    assert offered == ["refit-cap", "refit-cap-height", "accept"]


@pytest.mark.parametrize(
    ("asked", "possible", "offered"),
    [("150mm", 80.97, 80.9), ("150mm", 80.91, 80.9), ("-90mm", -58.87, -58.8)],
)
def test_a_smaller_step_is_never_more_than_what_is_possible(
    asked: str, possible: float, offered: float
):
    """Where a tenth more would be refused again, the amount is rounded towards nought."""
    kind = {"kind": "lower-neck", "piece": "front"}
    bench = Bench(state(block(), child("blouse", step("s1", by=asked, **kind))))
    (found,) = collisions(bench.evaluator.summary("blouse")).values()
    node = bench.state.node("blouse")
    collision = replace(found, largest_mm=possible)
    smaller, *_ = for_collision(
        collision, node, Trials(bench.evaluator, node), None, came_from_above=False
    )
    assert (smaller.name, smaller.amount_mm) == ("smaller-step", offered)
    assert smaller.values == {"by": f"{offered:g}mm"}
