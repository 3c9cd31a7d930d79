"""A piece joined of two in a pattern: corrections beneath arrive, measured across it."""

import numpy as np
import pytest

from tests.fair import lines_of
from tests.lineage.making import Bench, block, change, child, state, step, verdicts
from trueup.lineage.files.records import ConflictKind, NodeRecord, ParentRecord, StepRecord
from trueup.lineage.replay.verdicts import Verdict

MADE = [
    ("rotate-dart", {"dart": "back.shoulder", "edge": "back.armhole",
                     "at": "45% from shoulder-point"}),
    ("cut-apart", {"piece": "back", "begins": "armhole", "ends": "centre", "through": "shoulder",
                   "ends_at": "25% from neck-centre", "line": "back-line",
                   "parts": "back-yoke back-lower"}),
    ("cut-apart", {"piece": "front", "begins": "neck", "at": "40% from neck-point",
                   "ends": "armhole", "ends_at": "25% from shoulder-point", "line": "front-line",
                   "parts": "front-yoke front-lower"}),
    ("join-pieces", {"edge": "back-yoke.shoulder", "to": "front-yoke.shoulder", "name": "yoke"}),
    ("draft-band", {"to": "back.neck front.neck", "name": "stand", "height": "30mm"}),
    ("seam-allowance", {"piece": "yoke", "by": "12mm"}),
]  # fmt: skip
CORRECTIONS = [
    ("scoop-armhole", {"piece": "front", "by": "4mm"}),
    ("scoop-armhole", {"piece": "back", "by": "4mm"}),
    ("shorten-shoulder", {"by": "6mm"}),
    ("lower-neck", {"piece": "front", "by": "8mm"}),
    ("widen-neck", {"by": "5mm"}),
    ("slope-shoulder", {"by": "4mm"}),
    ("lower-armhole", {"by": "6mm"}),
    ("shorten-shoulder", {"by": "6mm", "side": "left"}),
]


def shirt(*more: StepRecord) -> NodeRecord:
    steps = [step(f"s{k}", kind, **values) for k, (kind, values) in enumerate(MADE)]
    return child("shirt", *steps, *more)


@pytest.mark.parametrize("correction", CORRECTIONS, ids=[str(c) for c in range(len(CORRECTIONS))])
def test_corrected_beneath_it_comes_out_as_if_the_block_had_been_corrected_first(
    correction: tuple[str, dict[str, str]],
) -> None:
    kind, values = correction
    nodes = (shirt(), child("long-shirt", of="shirt"))
    yoke_of = child("borrowed", of=[ParentRecord("shirt", ("front", "back"))])
    bench = Bench(state(block(), *nodes, yoke_of))
    bench.correct("village", change(kind, **values))
    assert verdicts(bench) == dict.fromkeys(("shirt", "long-shirt", "borrowed"), Verdict.CARRIED)
    by_hand = bench.evaluator.draft("village")
    for made, its in MADE:
        by_hand = change(made, **its).apply(by_hand)
    wanted = lines_of(by_hand)
    for name in ("shirt", "long-shirt"):
        found = lines_of(bench.evaluator.draft(name))
        assert found.keys() == wanted.keys()
        for line, points in wanted.items():
            assert np.abs(found[line] - points).max() < 0.01, line
        assert bench.open_at(name) == ()
    assert "yoke" in {
        name.removeprefix("left-") for name in bench.evaluator.draft("borrowed").piece_names
    }


def test_a_line_of_the_yoke_drawn_by_hand_overwrites_a_correction_and_says_so() -> None:
    own = step("own", "redraw-edge", edge="yoke.neck", through="50%:30mm")
    bench = Bench(state(block(), shirt(own)))
    bench.correct("village", change("redraw-edge", edge="back.neck", through="50%:16mm"))
    assert verdicts(bench)["shirt"] in (Verdict.LOST, Verdict.PARTLY)
    assert bench.conflict_at("shirt").change == "own"


def test_a_correction_that_leaves_the_two_unlike_is_asked_about() -> None:
    bench = Bench(state(block(), shirt()))
    bench.correct("village", change("redraw-edge", edge="front.shoulder", through="50%:6mm"))
    (conflict,) = [each for each in bench.open_at("shirt") if each.change == "s3"]
    assert conflict.kind is ConflictKind.IMPOSSIBLE
    assert "joined-curves" in str(conflict.says) or "joined-lengths" in str(conflict.says)
    # What comes after and needs the yoke says so, too; all is settled once they match again.
    bench.correct("village", change("straighten-edge", edge="front.shoulder"))
    assert bench.open_at("shirt") == ()
