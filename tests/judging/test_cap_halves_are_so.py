"""Each half of a refitted cap holds what it may, measured by sampling alone."""

import random
from contextlib import suppress

import pytest

from tests.judging.cap_halves import (
    BACK,
    FRONT,
    TOLERANCE,
    corrected,
    halves,
    kink,
    outside,
    refits,
    tally,
)
from tests.lineage.making import Bench, change, child, state
from tests.lineage.making import block as village
from trueup.geometry.changes import kind_named
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.walk import walk
from trueup.lineage.errors import CannotStep

REFITS = 160


def test_no_half_of_a_refitted_cap_is_left_short_or_kinked():
    done = 0
    for draft, ease in refits(REFITS, 2):
        front, back = halves(draft)
        assert front + back == pytest.approx(ease, abs=0.01)
        assert outside(front, FRONT) == outside(back, BACK) == 0.0
        assert kink(draft) < 2.0  # chords of the samples lie a little off the line
        done += 2
    assert done >= 300


def test_refitted_as_a_whole_halves_were_left_outside():
    _, _, off, kinked = tally(40, 1)
    assert off > 0
    assert kinked > 0


def test_the_program_walks_halves_as_they_are_sampled():
    dice = random.Random(4)
    for _ in range(40):
        _, draft = corrected(dice)
        walked = walk(draft, draft.seam("armhole-seam")).sections
        assert [each.ease for each in walked] == pytest.approx(halves(draft), abs=0.01)


@pytest.mark.parametrize("seed", range(12))
def test_after_the_first_remedy_both_halves_lie_in_their_bands(seed: int):
    dice = random.Random(seed)
    bench = Bench(state(village(), child("plain")))
    for _ in range(dice.randint(1, 3)):
        piece, by = dice.choice(("front", "back")), dice.uniform(6, 16)
        with suppress(CannotStep):
            bench.correct("village", change("scoop-armhole", piece=piece, by=f"{by:.1f}mm"))
    for conflict in bench.open_at("village"):
        bench.decide(conflict, conflict.remedies[0].name)
    for node in ("village", "plain"):
        front, back = halves(bench.evaluator.draft(node))
        assert max(outside(front, FRONT), outside(back, BACK)) <= TOLERANCE
        assert check(bench.evaluator.draft(node)) == ()
    assert bench.state.open_conflicts == ()


def test_a_front_hollowed_by_12_mm_and_refitted_as_a_whole_is_no_longer_called_true():
    drafted = kind_named("scoop-armhole")(piece="front", by=12.0).apply(
        village_draft := Bench(state(village())).evaluator.draft("village")
    )
    ease = sum(halves(village_draft))
    whole = kind_named("refit-cap", 1)(to=ease, how="width").apply(drafted)
    front, _ = halves(whole)
    assert front < FRONT[0] - TOLERANCE
    (found,) = (each for each in check(whole) if each.code == "seam")
    assert found.section == "front"
    assert found.measured == pytest.approx(front, abs=0.01)
    both = halves(kind_named("refit-cap")(to=ease, how="width").apply(drafted))
    assert max(outside(both[0], FRONT), outside(both[1], BACK)) == 0.0
    assert sum(both) == pytest.approx(ease, abs=0.01)
