"""A correction of the block beneath a pattern, beside the same steps made by hand after it."""

from collections.abc import Iterable
from typing import Any

from tests.lineage.making import Bench, block, change, child, pattern, state, step
from tests.sound import largest_shift
from trueup.geometry.changes import Change
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.replay.verdicts import Verdict

Steps = Iterable[tuple[str, dict[str, Any]]]


def corrected_beneath(
    steps: Steps, correction: Change, pieces: Iterable[str]
) -> tuple[Verdict, Draft]:
    """Correct the block under a pattern of some steps; return its verdict, and what came of it.

    The pieces have to lie as if the correction had been made first, to 0.01 mm.
    """
    made = [*steps]
    chain = [step(f"p{k}", kind, **values) for k, (kind, values) in enumerate(made)]
    bench = Bench(state(block(), child("top", *chain)))
    by_hand = correction.apply(bench.evaluator.draft("village"))
    for kind, values in made:
        by_hand = change(kind, **values).apply(by_hand)
    found = bench.correct("village", correction)
    came = bench.evaluator.draft("top")
    for piece in pieces:
        assert largest_shift(came.piece(piece), by_hand.piece(piece)) < 0.01
    return pattern(found, "top").verdict, came
