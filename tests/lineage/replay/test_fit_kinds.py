"""Changes of fit and of darts, from a block's correction down, and beneath a pattern's own change.

Common practice, no source.
"""

from collections.abc import Sequence
from typing import Any

import pytest

from tests.lineage.making import Bench, block, change, child, pattern, state, step
from tests.sound import largest_shift
from trueup.lineage.replay.verdicts import Verdict

LONG = ("lengthen", {"by": "200mm"})
SIDE_DART = (
    "rotate-dart",
    {"dart": "front.bust", "edge": "front.side", "at": "30% from underarm"},
)
GAPE = {"dart": "front.bust", "edge": "front.neck", "at": "30% from neck-centre"}
THROAT = {"edge": "front.neck", "at": "40% from neck-centre", "deep": "60mm", "name": "throat"}
SHORTER = ("shorten-shoulder", {"by": "6mm"})
SCOOP = ("scoop-armhole", {"piece": "front", "by": "4mm"})
DEEPER = ("deepen-dart", {"dart": "front.bust", "by": "5mm"})

Made = tuple[str, dict[str, Any]]

CORRECTED: list[tuple[Made, tuple[Made, ...]]] = [
    (("change-bust", {"dart": "front.bust", "by": "10mm", "into": "front.waist"}), (SIDE_DART,)),
    (("change-bust", {"dart": "front.bust", "by": "-6mm"}), (LONG,)),
    (("contour-edge", {**GAPE, "by": "6mm"}), (SIDE_DART, LONG)),
    (("gather-dart", {"dart": "front.bust"}), (SCOOP,)),
    (("add-dart", {**THROAT, "by": "8mm"}), (SIDE_DART, LONG)),
    (("sway-back", {"by": "10mm"}), (LONG,)),
    (("lengthen-at", {"by": "15mm", "level": "waist", "below": "-50mm"}), (SIDE_DART, LONG)),
    (("sway-back", {"by": "-6mm"}), (("add-ease", {"by": "40mm"}),)),
    (("full-abdomen", {"by": "12mm"}), (LONG,)),
    (("full-abdomen", {"by": "12mm", "dart": "front.waist", "less": "4mm"}), (SIDE_DART,)),
    (
        (
            "add-double-dart",
            {
                "piece": "back",
                "by": "8mm",
                "away": "40mm",
                "above": "80mm",
                "below": "90mm",
                "name": "mid",
            },
        ),
        (("lengthen", {"by": "100mm"}),),
    ),
]
"""What is corrected on the block, and what a pattern made of it before."""

BENEATH: list[tuple[Made, Made, Verdict]] = [
    # Under a deeper dart the place on the armhole lies nearer to the bust point, as sewn, and the
    # same spread opens less.
    (
        ("change-bust", {"dart": "front.bust", "by": "10mm", "into": "front.waist"}),
        DEEPER,
        Verdict.PARTLY,
    ),
    (("change-bust", {"dart": "front.bust", "by": "10mm"}), SCOOP, Verdict.CARRIED),
    (("contour-edge", {**GAPE, "by": "10mm"}), DEEPER, Verdict.CARRIED),
    (("gather-dart", {"dart": "back.shoulder"}), SHORTER, Verdict.CARRIED),
    (("sway-back", {"by": "10mm"}), SHORTER, Verdict.CARRIED),
    (
        ("lengthen-at", {"by": "15mm", "level": "waist", "below": "-50mm"}),
        DEEPER,
        Verdict.CARRIED,
    ),
    (("full-abdomen", {"by": "10mm"}), DEEPER, Verdict.CARRIED),
    (("add-dart", {**THROAT, "by": "8mm"}), DEEPER, Verdict.CARRIED),
]
"""What a pattern made, what is then corrected on the block beneath it, and what becomes of that."""


GROWN = {"add-double-dart": (step("g1", "lengthen", by="200mm"),)}
"""What the block is made into first, for what needs more than a bodice."""


def kinds(cases: Sequence[tuple[Any, ...]]) -> list[str]:
    return [case[0][0] for case in cases]


@pytest.mark.parametrize(("made", "before"), CORRECTED, ids=kinds(CORRECTED))
def test_a_correction_of_the_block_arrives(made: Made, before: tuple[Made, ...]) -> None:
    steps = [step(f"s{k}", kind, **values) for k, (kind, values) in enumerate(before)]
    bench = Bench(state(block("village", *GROWN.get(made[0], ())), child("blouse", *steps)))
    found = bench.correct("village", change(made[0], **made[1]))
    there = pattern(found, "blouse")
    assert there.verdict is Verdict.CARRIED, there
    assert there.measures
    assert all(each.arrived for each in there.measures)


@pytest.mark.parametrize(("made", "corrected", "verdict"), BENEATH, ids=kinds(BENEATH))
def test_a_correction_beneath_it_is_told_as_it_arrives(
    made: Made, corrected: Made, verdict: Verdict
) -> None:
    bench = Bench(state(block(), child("blouse", step("s1", made[0], **made[1]))))
    found = bench.correct("village", change(corrected[0], **corrected[1]))
    assert pattern(found, "blouse").verdict is verdict
    by_hand = change(made[0], **made[1]).apply(bench.evaluator.draft("village"))
    for piece in bench.evaluator.draft("blouse").pieces:
        assert largest_shift(piece, by_hand.piece(piece.name)) < 0.01
