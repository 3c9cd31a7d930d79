"""Remedies are tried out before they are offered; seams are read here from sampled curves alone."""

import numpy as np
import pytest

from tests.judging.sampled import depths, edge_of, length
from tests.lineage.making import Bench, block, change, child, pattern, state, step
from trueup.lineage.files.records import ConflictKind, ConflictRecord, Remedy
from trueup.lineage.replay.verdicts import Verdict


def sewn(bench: Bench, node: str, name: str) -> float:
    edge = edge_of(bench.evaluator.draft(node), name)
    assert edge is not None
    return length(edge)


def offered(conflict: ConflictRecord) -> list[str]:
    return [remedy.name for remedy in conflict.remedies]


def named(conflict: ConflictRecord, name: str) -> Remedy:
    return next(remedy for remedy in conflict.remedies if remedy.name == name)


def deeper_shoulder_dart(*nodes: object) -> Bench:
    bench = Bench(state(block(), *nodes))  # type: ignore[arg-type]
    bench.correct("village", change("deepen-dart", dart="back.shoulder", by="5mm"))
    return bench


@pytest.mark.parametrize("remedy", ["true-shoulder", "true-shoulder-of-front"])
def test_uneven_shoulders_are_evened_on_either_side_by_what_is_said(remedy: str):
    bench = deeper_shoulder_dart()
    (conflict,) = [c for c in bench.open_at("village") if c.edge == "shoulder"]
    assert offered(conflict)[:2] == ["true-shoulder", "true-shoulder-of-front"]
    chosen = named(conflict, remedy)
    piece = chosen.values["piece"]
    assert ("lengthen" if piece == "back" else "shorten") in chosen.says.what
    before = {name: sewn(bench, "village", f"{name}.shoulder") for name in ("front", "back")}
    bench.decide(conflict, remedy)
    after = {name: sewn(bench, "village", f"{name}.shoulder") for name in ("front", "back")}
    assert after["front"] == pytest.approx(after["back"], abs=0.05)
    assert abs(after[piece] - before[piece]) == pytest.approx(chosen.amount_mm, abs=0.05)
    assert bench.open_at("village") == ()


@pytest.mark.parametrize("by", ["18mm", "-18mm"])
def test_a_hem_is_evened_by_what_is_said_lengthened_or_shortened(by: str):
    for remedy in ("true-hem", "true-hem-of-front", "true-hem-of-back"):
        bench = Bench(state(block()))
        bench.correct("village", change("true-hem", piece="front", by=by))
        (conflict,) = bench.open_at("village")
        if remedy not in offered(conflict):
            continue
        chosen = named(conflict, remedy)
        side = f"{chosen.values['piece']}.side"
        before = sewn(bench, "village", side)
        bench.decide(conflict, remedy)
        moved = sewn(bench, "village", side) - before
        assert moved == pytest.approx(18 if "lengthen" in chosen.says.what else -18, abs=0.05)
        assert chosen.amount_mm == pytest.approx(18, abs=0.01)


def test_a_remedy_names_what_it_leaves_open():
    own = step("r1", "redraw-edge", edge="front.armhole", through="30%:20mm 70%:35mm")
    all_promised = set()
    for by in (10, 26, 40):
        bench = Bench(state(block(), child("vest", own)))
        bench.correct("village", change("scoop-armhole", piece="front", by=f"{by}mm"))
        (conflict,) = [c for c in bench.open_at("vest") if c.kind is ConflictKind.BOTH_SHAPED]
        repeat = named(conflict, "repeat-here")
        promised = {(each.code, each.piece, each.edge) for each in repeat.leaves}
        before = {f.key for f in bench.evaluator.summary("vest").findings}
        bench.decide(conflict, "repeat-here")
        after = {f.key for f in bench.evaluator.summary("vest").findings}
        assert after - before <= promised <= after
        all_promised |= promised
    assert ("seam", "sleeve", "cap") in all_promised


def test_what_leaves_nothing_open_comes_first():
    bench = Bench(state(block()))
    bench.correct("village", change("scoop-armhole", piece="front", by="20mm"))
    leaves = [bool(r.leaves) for r in bench.conflict_at("village").remedies if r.kind]
    assert leaves == sorted(leaves)


def test_a_cure_that_does_not_settle_its_conflict_is_not_offered():
    # The armhole grows so much that no cap of sane size holds its ease in height alone.
    bench = Bench(state(block(), child("easy", step("e1", "lower-armhole", by="10mm"))))
    bench.correct("village", change("lower-armhole", by="120mm"))
    for conflict in bench.state.open_conflicts:
        for remedy in conflict.remedies:
            if remedy.kind is None:
                continue
            trial = Bench(bench.state, made=bench.made, earlier=dict(bench.earlier))
            trial.decide(conflict, remedy.name)
            left = {(each.code, each.piece, each.edge) for each in remedy.leaves}
            assert conflict.key not in {
                f.key for f in trial.evaluator.summary(conflict.arose_at).findings
            }
            assert conflict.key not in left


def test_of_what_arrives_in_part_the_missing_part_is_made_on_the_patterns_own_line():
    bench = Bench(
        state(
            block(),
            child(
                "tabard",
                step("t1", "slope-shoulder", by="-25mm"),
                step("t2", "shorten-shoulder", by="-40mm"),
                step("t3", "lower-armhole", by="40mm"),
            ),
        )
    )
    before = edge_of(bench.evaluator.draft("tabard"), "front.armhole")
    found = bench.correct("village", change("scoop-armhole", piece="front", by="10mm"))
    tabard = pattern(found, "tabard")
    assert [each.verdict for each in tabard.corrections] == [Verdict.PARTLY]
    (conflict,) = [c for c in bench.open_at("tabard") if c.kind is ConflictKind.BOTH_SHAPED]
    repeat = named(conflict, "repeat-here")
    assert 0.5 < repeat.amount_mm < 5
    bench.decide(conflict, "repeat-here")
    after = edge_of(bench.evaluator.draft("tabard"), "front.armhole")
    assert before is not None
    assert after is not None
    assert float(np.abs(depths(before) - depths(after)).max()) == pytest.approx(10, abs=0.2)
