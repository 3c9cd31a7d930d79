"""A piece drafted to a line on a pattern, then a correction of the block beneath it.

What comes out is the same as if the block had been corrected first and the piece drafted after,
judged by points sampled along its lines.
"""

from typing import Any

import numpy as np
import pytest

from tests.fair import lines_of
from tests.lineage.making import Bench, block, change, child, state, step, verdicts
from trueup.lineage.replay.verdicts import Verdict

Step = tuple[str, dict[str, Any]]

NECK_CORRECTIONS: list[Step] = [
    ("lower-neck", {"piece": "front", "by": "8mm"}),
    ("widen-neck", {"by": "5mm"}),
    ("shorten-shoulder", {"by": "6mm"}),
    ("slope-shoulder", {"by": "5mm"}),
]
FLAT_COLLAR: Step = (
    "draft-flat-collar",
    {"width": "60mm", "overlap": "15mm", "lowered": "7mm", "rounded": "40mm", "fold": True},
)
HOOD: Step = ("draft-hood", {"height": "340mm", "depth": "240mm", "dart": "20mm"})
CUFF: Step = (
    "draft-cuff",
    {"to": "sleeve.hem", "width": "60mm", "overlap": "20mm", "gathers": "40mm", "doubled": True},
)
BINDING: Step = (
    "draft-binding",
    {"to": "back.armhole front.armhole", "width": "8mm", "longest": "200mm", "slanted": True},
)
LININGS: list[Step] = [
    ("draft-facing", {"edge": "back.neck", "width": "50mm"}),
    (
        "draft-lining",
        {"piece": "back", "pleat": "20mm", "shorter": "15mm", "facings": "back-neck-facing"},
    ),
    ("draft-lining", {"piece": "front", "shorter": "15mm"}),
]
OVERLAP: Step = ("overlap-front", {"by": "60mm", "at": "40mm from neck-centre", "beyond": True})
WRAP: Step = ("overlap-front", {"by": "60mm", "starts": "shoulder", "at": "0mm from neck-point"})
SHAWL: Step = ("draft-shawl", {"opens": "150mm"})
ARMHOLE_CORRECTIONS: list[Step] = [
    ("scoop-armhole", {"piece": "front", "by": "6mm"}),
    ("lower-armhole", {"by": "8mm"}),
    ("shorten-shoulder", {"by": "6mm"}),
]
MADE: list[tuple[list[Step], Step]] = [
    *(([FLAT_COLLAR], correction) for correction in NECK_CORRECTIONS),
    *(([HOOD], correction) for correction in NECK_CORRECTIONS),
    *((LININGS, correction) for correction in (*NECK_CORRECTIONS, *ARMHOLE_CORRECTIONS)),
    (LININGS, ("taper-side", {"level": "waist", "by": "8mm"})),
    *(([("open-fold", {"piece": "front"})], correction) for correction in NECK_CORRECTIONS),
    *(([OVERLAP], correction) for correction in NECK_CORRECTIONS),
    *(([WRAP], correction) for correction in (*NECK_CORRECTIONS[2:], *ARMHOLE_CORRECTIONS)),
    *(([SHAWL], c) for c in (*NECK_CORRECTIONS[2:], *ARMHOLE_CORRECTIONS)),
    ([CUFF], ("widen-sleeve", {"by": "12mm", "hem": "10mm"})),
    *(([BINDING], correction) for correction in ARMHOLE_CORRECTIONS),
]


@pytest.mark.parametrize(("made", "correction"), MADE, ids=[f"{m[-1][0]}-{c[0]}" for m, c in MADE])
def test_corrected_beneath_it_comes_out_as_if_the_block_had_been_corrected_first(
    made: list[Step], correction: Step
) -> None:
    steps = [step(f"s{k}", kind, **values) for k, (kind, values) in enumerate(made)]
    bench = Bench(state(block(), child("blouse", *steps)))
    kind, values = correction
    bench.correct("village", change(kind, **values))
    assert verdicts(bench)["blouse"] is Verdict.CARRIED
    by_hand = bench.evaluator.draft("village")
    for kind, values in made:
        by_hand = change(kind, **values).apply(by_hand)
    found, wanted = lines_of(bench.evaluator.draft("blouse")), lines_of(by_hand)
    assert found.keys() == wanted.keys()
    for name, points in wanted.items():
        assert np.abs(found[name] - points).max() < 0.01, name
    assert bench.open_at("blouse") == ()
