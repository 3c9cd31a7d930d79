"""Pieces whose side comes down aslant are made longer all along, not straight down."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.fair import closed_points
from tests.geometry.changes.skirts import PIECES, skirt
from tests.geometry.changes.tape_measure import sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from trueup.geometry.changes import kind_named
from trueup.geometry.changes.side_and_hem.lengthen import Lengthen
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.files.records import BlockDraft, NodeRecord
from trueup.lineage.replay.verdicts import Verdict

SYSTEMS = (
    "circle-skirt", "three-quarter-circle-skirt", "half-circle-skirt", "quarter-circle-skirt",
)  # fmt: skip


def circle(system: str, waist: float = 720.0, length: float = 600.0) -> Draft:
    return draft_block(system, {"waist": waist, "skirt-length": length})


@given(
    st.sampled_from(SYSTEMS),
    st.integers(500, 1100),
    st.integers(350, 900),
    st.integers(-250, 300).filter(bool),
)
@settings(max_examples=40, deadline=None)
def test_a_circle_skirt_is_longer_by_as_much_all_along(
    system: str, waist: int, length: int, by: int
) -> None:
    before = circle(system, float(waist), float(length))
    after = Lengthen(by=float(by)).apply(before)
    assert_sound(after)
    assert check(after) == check(before)
    for name in PIECES:
        piece = after.piece(name)
        top = closed_points(piece.edge("waist"))
        away = [np.abs(top - point).min() for point in closed_points(piece.edge("hem"))[::9]]
        assert away == pytest.approx([length + by] * len(away), abs=0.05)
        for edge in ("side", "centre"):
            assert sewn_length(piece.edge(edge)) == pytest.approx(length + by, abs=0.01)
        assert piece.edge("waist") == before.edge(name, "waist")


def test_one_that_hangs_straight_is_lowered_as_it_always_was() -> None:
    for draft in (skirt(), change("dart-to-flare", dart="skirt-front.waist").apply(skirt())):
        for by in (60.0, -60.0):
            one, other = (kind_named("lengthen", v)(by=by).apply(draft) for v in (2, 3))
            assert one == other


def test_flare_at_an_aslant_side_is_refused() -> None:
    with refusing(CannotChange, match="its side comes down aslant, and is drawn on along itself; "):
        Lengthen(by=60.0, flare=20.0).apply(circle("half-circle-skirt"))


def test_corrections_of_the_block_arrive_in_a_longer_circle() -> None:
    body = {"waist": "72cm", "skirt-length": "60cm"}
    node = NodeRecord("circle", True, draft=BlockDraft("half-circle-skirt", body))
    bench = Bench(state(node, child("long", step("l", "lengthen", by="80mm"), of="circle")))
    core = circle("half-circle-skirt")
    for each, verdict in (
        (Lengthen(by=-30.0), Verdict.CARRIED),
        # A flare that goes on in what is lengthened widens the lower hem by more.
        (
            change("flare-seam", edge="skirt-front.side", at="300mm from hem-side", by="30mm"),
            Verdict.PARTLY,
        ),
    ):
        assert pattern(bench.correct("circle", each), "long").verdict is verdict
        core = each.apply(core)
    by_hand = Lengthen(by=80.0).apply(core)
    for piece in by_hand.pieces:
        assert largest_shift(piece, bench.evaluator.draft("long").piece(piece.name)) < 0.01
