"""Facts of the trade, from the block's correction down to a pattern two levels below.

Common practice, no source.
"""

import pytest

from tests.lineage.making import Bench, block, change, child, state, step
from trueup.lineage.replay.standing import standing
from trueup.lineage.replay.verdicts import Verdict


@pytest.fixture
def bench() -> Bench:
    low = step("b1", "lower-neck", piece="front", by="20mm")
    ease = step("e1", "add-ease", by="40mm")
    return Bench(state(block(), child("easy", ease), child("blouse", low, of="easy")))


def moved(bench: Bench, then: dict[str, float], measure: str) -> float:
    return bench.measure("blouse", measure) - then[measure]


def measures(bench: Bench) -> dict[str, float]:
    return dict(bench.evaluator.summary("blouse").measures)


def test_hollowing_an_armhole_lengthens_it_and_eats_cap_ease_one_for_one(bench: Bench):
    then = measures(bench)
    bench.correct("village", change("scoop-armhole", piece="front", by="6mm"))
    longer = moved(bench, then, "front.armhole")
    assert longer > 1
    assert moved(bench, then, "sleeve.cap-ease") == pytest.approx(-longer, abs=1e-6)
    assert moved(bench, then, "sleeve.cap") == 0


def test_half_an_inch_off_both_shoulders_is_half_an_inch_off_each(bench: Bench):
    then = measures(bench)
    found = bench.correct("village", change("shorten-shoulder", by="1/2in"))
    for piece in ("front", "back"):
        assert moved(bench, then, f"{piece}.shoulder") == pytest.approx(-12.7, abs=1e-3)
    judged = [carried for each in found.patterns for carried in each.measures]
    assert {carried.name for carried in judged} == {"front.shoulder", "back.shoulder"}
    assert all(carried.arrived for carried in judged)


def test_moving_the_shoulder_seam_forward_takes_nothing_in_or_out(bench: Bench):
    def area(node: str) -> float:
        draft = bench.evaluator.draft(node)
        return draft.piece("front").area + draft.piece("back").area

    then, of_block, of_blouse = measures(bench), area("village"), area("blouse")
    bench.correct("village", change("shift-shoulder", by="8mm"))
    assert moved(bench, then, "front.shoulder") == pytest.approx(0, abs=1e-3)
    assert moved(bench, then, "back.shoulder") == pytest.approx(0, abs=1e-3)
    assert area("village") == pytest.approx(of_block, abs=1e-3)  # mm²
    assert area("blouse") == pytest.approx(of_blouse, abs=10)  # its neck is cut from a turned line


def test_a_deeper_side_dart_leaves_the_front_side_short_and_true_hem_mends_it(bench: Bench):
    turned = change("rotate-dart", dart="front.bust", edge="front.side", at="35% from underarm")
    bench.style("village", turned)
    then = measures(bench)
    found = bench.correct("village", change("deepen-dart", dart="front.bust", by="10mm"))
    short = moved(bench, then, "front.side")
    assert short == pytest.approx(-8.5, abs=0.3)  # the legs grow as the seam is drawn straight
    assert moved(bench, then, "side-seam.ease") == pytest.approx(short, abs=1e-6)
    (conflict,) = [c for c in found.conflicts if c.code == "seam"]
    bench.decide(conflict, "true-hem")
    assert bench.measure("blouse", "side-seam.ease") == pytest.approx(0, abs=1e-3)
    assert not any(each.code == "seam" for each in standing(bench.evaluator, "blouse"))


def test_a_waist_dart_left_unsewn_adds_its_intake_at_the_waist(bench: Bench):
    then = measures(bench)
    bench.correct("village", change("release-dart", dart="front.waist"))
    intake = then["front.waist.intake"]
    assert moved(bench, then, "front.hem") == pytest.approx(intake, abs=0.5)
    assert "front.waist.intake" not in measures(bench)


def test_a_hem_is_longer_behind_than_in_front_only_where_the_maker_accepted_it(bench: Bench):
    found = bench.correct("blouse", change("true-hem", piece="back", by="12mm"))
    (conflict,) = found.conflicts
    assert [each.is_open for each in standing(bench.evaluator, "blouse")] == [True]
    bench.decide(conflict, "accept")
    (stands,) = standing(bench.evaluator, "blouse")
    assert stands.accepted
    assert not stands.is_open
    longer = bench.correct("village", change("true-hem", piece="front", by="-3mm"))
    assert [c.arose_at for c in longer.conflicts] == ["village"]
    assert {each.name: each.verdict for each in longer.patterns} == {
        "easy": Verdict.CARRIED,
        "blouse": Verdict.CONFLICT,
    }
    assert bench.conflict_at("blouse").id == conflict.id
