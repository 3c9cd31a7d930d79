"""What a block drafted anew means to change."""

from tests.lineage.making import Bench, block, state, step
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.replay.drafted_anew.edit import remeasure
from trueup.lineage.replay.drafted_anew.meant import meant_by


def both(*steps, **body: str) -> tuple[Summary, Summary]:
    bench = Bench(state(block("village", *steps)))
    before = bench.evaluator.summary("village")
    bench.take(remeasure(bench.state, "village", body, ""))
    return before, bench.evaluator.summary("village")


def test_what_moved_by_more_than_passes_as_carried_is_meant():
    before, after = both(bust="93cm")
    meant = {each.name: each.wanted_mm for each in meant_by(before, after)}
    assert min(map(abs, meant.values())) > 0.5
    for name, was in before.measures.items():
        moved = after.measures[name] - was
        follows = name.endswith((".leg", "ease"))
        assert (name in meant) is (abs(moved) > 0.5 and not follows), name
        if name in meant:
            assert meant[name] == moved
    assert "front.armhole.line" in meant


def test_of_a_hairs_breadth_what_moved_at_all_is_meant():
    before, after = both(bust="88.02cm")
    meant = [each.wanted_mm for each in meant_by(before, after)]
    assert meant
    assert max(map(abs, meant)) <= 0.5


def test_nothing_is_meant_where_nothing_moved():
    before, _ = both(bust="93cm")
    assert meant_by(before, before) == ()


def test_what_its_own_steps_set_again_is_not_meant():
    own = step("r", "redraw-edge", edge="front.neck", through="50%:12mm")
    before, after = both(own, bust="100cm", waist="80cm")
    assert "front.neck.line" not in {each.name for each in meant_by(before, after)}
