import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.geometry.changes.tape_measure import sewn_length
from tests.geometry.changes.trousers.cases import trousers
from tests.geometry.drafting.truth import seam_differences
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measure
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

BUST = ("front.bust-width", "back.bust-width")


def girth(draft: Draft) -> float:
    return 2 * sum(measure(draft, each) for each in BUST)


@given(drafts(), st.integers(1, 18), st.integers(0, 12))
@settings(max_examples=12)
def test_each_piece_loses_its_share_and_the_cap_holds_what_is_wanted(
    draft: Draft, share: int, cap: int
) -> None:
    dartless = change("take-out-darts").apply(draft)
    after = change("reduce-ease", share=share / 100, cap=f"{cap}mm").apply(dartless)
    assert check(after) == ()
    for width in BUST:
        was = measure(dartless, width)
        assert measure(after, width) == pytest.approx(was * (1 - share / 100), abs=0.2)
    sides = [sewn_length(after.edge(name, "side")) for name in ("front", "back")]
    assert sides[0] == pytest.approx(sides[1], abs=0.05)
    assert seam_differences(after)["armhole-seam"] == pytest.approx(cap, abs=0.1)
    allowed = after.seam("armhole-seam").allowed
    assert (allowed.low, allowed.high) == (0.0, 19.0)
    for name in ("front", "back"):
        for edge in ("neck", "shoulder"):
            assert after.edge(name, edge) is dartless.edge(name, edge)


def test_a_garment_may_become_narrower_than_the_body() -> None:
    body = 880.0
    dartless = change("take-out-darts").apply(block(body, 680.0, 400.0, 560.0))
    assert girth(dartless) > body
    assert girth(change("reduce-ease", share=0.2).apply(dartless)) < body - 60


def test_trousers_become_narrower_at_the_hip() -> None:
    after = change("reduce-ease", share=0.06).apply(trousers())
    assert check(after) == ()
    for name in ("trouser-front", "trouser-back"):
        was, now = (measure(draft, f"{name}.hip-width") for draft in (trousers(), after))
        assert now == pytest.approx(0.94 * was, abs=0.2)


def test_darts_are_in_the_way_of_much() -> None:
    with refusing(CannotChange, match=r"^reduce-ease cannot be done on back\..*dart waist-side"):
        change("reduce-ease", share=0.15).apply(block(880.0, 680.0, 400.0, 560.0))


def test_it_is_told_in_words() -> None:
    assert change("reduce-ease", share=0.12, cap="5mm").in_words(Unit.MILLIMETRE) == (
        "reduce the ease by 12% of the width, with 5 mm in the cap"
    )


def test_a_correction_of_the_block_arrives_in_a_knit() -> None:
    steps = (step("k1", "take-out-darts"), step("k2", "reduce-ease", share=0.1))
    bench = Bench(state(block_node(), child("jersey", *steps)))
    was = bench.measure("jersey", "front.shoulder")
    found = bench.correct("village", change("shorten-shoulder", by="6mm"))
    assert pattern(found, "jersey").verdict is Verdict.CARRIED
    assert bench.measure("jersey", "front.shoulder") - was == pytest.approx(-6, abs=0.05)
    by_hand = change("reduce-ease", share=0.1).apply(
        change("take-out-darts").apply(bench.evaluator.draft("village"))
    )
    assert bench.evaluator.draft("jersey").piece("back").outline_points == (
        by_hand.piece("back").outline_points
    )
