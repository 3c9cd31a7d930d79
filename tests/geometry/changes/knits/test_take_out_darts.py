import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, turns
from tests.geometry.changes.tape_measure import sewn_length
from tests.geometry.drafting.bodies import DIRECT
from tests.geometry.drafting.truth import corner_angle
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import BadParameter, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

SHARES = ((0.34, 0.33), (0.0, 0.3), (0.5, 0.5), (1.0, 0.0), (0.0, 0.0), (0.3, 0.0))


def dartless(draft: Draft, hem: float = 0.34, armhole: float = 0.33) -> Draft:
    return change("take-out-darts", hem=hem, armhole=armhole).apply(draft)


@given(drafts(), st.sampled_from(SHARES))
@settings(max_examples=15)
def test_no_dart_is_left_and_all_but_the_cap_still_sews(
    draft: Draft, shares: tuple[float, float]
) -> None:
    after = dartless(draft, *shares)
    assert not any(piece.dart_names for piece in after.pieces)
    assert {(f.code, f.piece, f.edge) for f in check(after)} <= {("seam", "sleeve", "cap")}
    for edge in ("side", "shoulder"):
        lengths = [sewn_length(after.edge(name, edge)) for name in ("front", "back")]
        assert lengths[0] == pytest.approx(lengths[1], abs=0.05)
    for name in ("front", "back"):
        for edge in ("neck", "centre"):
            same = sewn_length(after.edge(name, edge)) - sewn_length(draft.edge(name, edge))
            assert same == pytest.approx(0, abs=0.01)
        assert len(turns(closed_points(after.edge(name, "armhole")), 3.0)) == 1


@given(drafts())
@settings(max_examples=10)
def test_lines_run_on_across_the_seams(draft: Draft) -> None:
    after = dartless(draft)
    for corner in ("shoulder-point", "neck-point", "underarm", "hem-side"):
        total = sum(corner_angle(after.piece(name), corner) for name in ("front", "back"))
        assert total == pytest.approx(180, abs=4)


def test_what_goes_to_the_armhole_is_ease_there_and_what_goes_to_the_hem_is_width() -> None:
    def of(draft: Draft, edge: str) -> float:
        return sewn_length(draft.edge("front", edge))

    none, some, half = (dartless(block(), hem, arm) for hem, arm in ((0, 0), (0, 0.3), (0.5, 0.3)))
    assert of(none, "armhole") < of(some, "armhole") - 5
    assert of(some, "armhole") == pytest.approx(of(half, "armhole"), abs=2.5)
    assert of(half, "hem") > of(some, "hem") + 15


def test_a_block_by_direct_measurements_has_its_bust_dart_in_the_shoulder() -> None:
    after = dartless(draft_block("direct-measure", DIRECT))
    assert not any(piece.dart_names for piece in after.pieces)
    assert sewn_length(after.edge("front", "shoulder")) == pytest.approx(122.5, abs=0.05)
    assert {f.code for f in check(after)} <= {"seam"}


def test_what_cannot_be_is_refused() -> None:
    with refusing(BadParameter, match="armhole cannot be 0.7: it and the share of the hem come"):
        dartless(block(), 0.4, 0.7)
    with pytest.raises(NoSuchName):
        dartless(dartless(block()))


def test_it_is_told_in_words() -> None:
    assert change("take-out-darts", hem=0.5, armhole=0.25).in_words(Unit.CENTIMETRE) == (
        "take out the darts, 50% of front.bust to the hem and 25% to the armhole"
    )


def test_a_correction_of_the_block_arrives_in_a_dartless_pattern() -> None:
    bench = Bench(state(block_node(), child("jersey", step("k1", "take-out-darts"))))
    correction = change("shorten-shoulder", by="6mm")
    found = bench.correct("village", correction)
    assert pattern(found, "jersey").verdict is Verdict.CARRIED
    by_hand = dartless(bench.evaluator.draft("village"))
    assert bench.evaluator.draft("jersey").piece("front").outline_points == (
        by_hand.piece("front").outline_points
    )
