"""A piece called otherwise in a pattern: corrections above arrive, and are told by its name."""

import numpy as np
import pytest

from tests.fair import lines_of
from tests.lineage.making import Bench, block, change, child, pattern, state, step, verdicts
from trueup.lineage.evaluation.origin import origin
from trueup.lineage.files.records import ConflictState, ParentRecord, Role
from trueup.lineage.promotion.promoting import promote
from trueup.lineage.replay.standing import standing
from trueup.lineage.replay.verdicts import Verdict

RENAME = ("rename-piece", {"piece": "front", "to": "over-front"})
CORRECTIONS = [
    ("scoop-armhole", {"piece": "front", "by": "4mm"}),
    ("shorten-shoulder", {"by": "6mm"}),
    ("lower-neck", {"piece": "front", "by": "8mm"}),
    ("deepen-dart", {"dart": "front.bust", "by": "5mm"}),
    ("lower-armhole", {"by": "6mm"}),
    ("redraw-edge", {"edge": "front.neck", "through": "50%:20mm"}),
]


@pytest.mark.parametrize("correction", CORRECTIONS, ids=[c[0] for c in CORRECTIONS])
def test_corrected_beneath_it_comes_out_as_if_the_block_had_been_corrected_first(
    correction: tuple[str, dict[str, str]],
) -> None:
    kind, values = correction
    wrap = child("wrap", step("r", RENAME[0], **RENAME[1]))
    bench = Bench(state(block(), wrap, child("long-wrap", of="wrap")))
    bench.correct("village", change(kind, **values))
    assert verdicts(bench) == {"wrap": Verdict.CARRIED, "long-wrap": Verdict.CARRIED}
    assert bench.last is not None
    told = [each.name for each in pattern(bench.last, "long-wrap").measures]
    assert told
    assert not [name for name in told if name.startswith("front.")]
    by_hand = change(RENAME[0], **RENAME[1]).apply(bench.evaluator.draft("village"))
    for name in ("wrap", "long-wrap"):
        found, wanted = lines_of(bench.evaluator.draft(name)), lines_of(by_hand)
        assert found.keys() == wanted.keys()
        for line, points in wanted.items():
            assert np.abs(found[line] - points).max() < 0.01, line


def test_a_correction_that_its_own_line_overwrote_is_lost_and_told_by_its_name() -> None:
    own = [
        step("r", RENAME[0], **RENAME[1]),
        step("n", "redraw-edge", edge="over-front.neck", through="50%:20mm"),
    ]
    bench = Bench(state(block(), child("wrap", *own), child("long-wrap", of="wrap")))
    bench.correct("village", change("redraw-edge", edge="front.neck", through="50%:28mm"))
    assert verdicts(bench) == {"wrap": Verdict.LOST, "long-wrap": Verdict.LOST}
    conflict = bench.conflict_at("wrap")
    assert (conflict.piece, conflict.edge) == ("over-front", "neck")
    assert bench.open_at("long-wrap") == ()


def test_what_is_accepted_stays_accepted_when_the_piece_is_renamed() -> None:
    bench = Bench(state(block(), child("tight"), child("tighter", of="tight")))
    bench.style("tight", change("redraw-edge", edge="front.side", through="50%:3mm"))
    bench.style("tight", change("lengthen", by="30mm", piece="front"))
    (found,) = [each for each in standing(bench.evaluator, "tight") if each.is_open][:1]
    before = found.id
    bench.style("tight", change(*RENAME[:1], **RENAME[1]))
    after = {each.id: each for each in standing(bench.evaluator, "tight")}
    assert before in after
    assert after[before].piece in ("over-front", "back")
    # Below it is inherited, not asked about once more.
    below = {each.id: each.arose_at for each in standing(bench.evaluator, "tighter")}
    assert below[before] == "tight"
    bench.style("tighter", change("rename-piece", piece="over-front", to="wrap"))
    again = {each.id: each.arose_at for each in standing(bench.evaluator, "tighter")}
    assert again[before] == "tight"
    assert not [c for c in bench.state.node("tighter").conflicts if c.state is ConflictState.OPEN]


def test_the_same_correction_made_below_by_the_new_name_is_doubled() -> None:
    own = [
        step("r", RENAME[0], **RENAME[1]),
        step("c", "scoop-armhole", Role.CORRECTION, piece="over-front", by="5mm"),
    ]
    bench = Bench(state(block(), child("wrap", *own)))
    bench.correct("village", change("scoop-armhole", piece="front", by="5mm"))
    assert verdicts(bench) == {"wrap": Verdict.DOUBLED}


def test_a_correction_made_under_the_new_name_moves_up_by_the_own_one() -> None:
    own = [
        step("r", RENAME[0], **RENAME[1]),
        step("c", "scoop-armhole", Role.CORRECTION, piece="over-front", by="5mm"),
    ]
    bench = Bench(state(block(), child("wrap", *own), child("plain")))
    edit = promote(bench.evaluator, "wrap", "c")
    assert edit.node == "village"
    before = lines_of(bench.evaluator.draft("wrap"))
    bench.take(edit)
    (moved,) = bench.state.node("village").steps
    assert moved.values["piece"] == "front"
    after = lines_of(bench.evaluator.draft("wrap"))
    assert before.keys() == after.keys()
    assert all(np.abs(before[name] - after[name]).max() < 0.01 for name in before)


def test_its_lines_come_from_where_those_of_the_piece_do() -> None:
    scoop = step("c", "scoop-armhole", Role.CORRECTION, piece="front", by="5mm")
    wrap = child("wrap", step("r", RENAME[0], **RENAME[1]))
    bench = Bench(state(block("village", scoop), wrap, child("long-wrap", of="wrap")))
    for node in ("wrap", "long-wrap"):
        for piece in ("front", "over-front"):
            found = origin(bench.evaluator, node, piece, "armhole")
            assert (found.node, found.step and found.step.id) == ("village", "c")


def test_it_is_taken_over_by_either_name_and_by_that_of_before() -> None:
    wrap = child("wrap", step("r", RENAME[0], **RENAME[1]))
    vests = [
        child(f"vest-{k}", of=[ParentRecord("wrap", (piece, "back"))])
        for k, piece in enumerate(("front", "over-front"))
    ]
    bench = Bench(state(block(), wrap, *vests))
    for vest in vests:
        draft = bench.evaluator.draft(vest.name)
        assert draft.piece_names == ("over-front", "back")
        assert {seam.name for seam in draft.seams} == {"shoulder-seam", "side-seam"}
    bench.correct("village", change("lower-neck", piece="front", by="8mm"))
    assert {*verdicts(bench).values()} == {Verdict.CARRIED}


def test_one_called_otherwise_on_one_side_comes_down_whole() -> None:
    own = [
        step("l", "lower-neck", piece="front", by="9mm", side="left"),
        step("r", "rename-piece", piece="front", to="over-front", side="left"),
    ]
    taken = [ParentRecord("wrap", ("front", "back"))]
    bench = Bench(state(block(), child("wrap", *own), child("vest", of=taken)))
    assert {"over-front", "right-front"} < {*bench.evaluator.draft("vest").piece_names}
    bench.correct("village", change("scoop-armhole", piece="front", by="4mm"))
    assert {*verdicts(bench).values()} == {Verdict.CARRIED}
    assert bench.last is not None
    told = {each.name.partition(".")[0] for each in pattern(bench.last, "vest").measures}
    assert told == {"over-front", "right-front"}
