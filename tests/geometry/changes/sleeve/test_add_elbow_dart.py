import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import amounts, corner_degrees
from tests.fair import closed_points, headings, smallest_radius
from tests.geometry.changes.tape_measure import assert_same_lengths, sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes.sleeve.add_elbow_dart import AddElbowDart
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


def bend(draft: Draft, by: float, **more: object) -> Draft:
    return AddElbowDart(by=by, **more).apply(draft)


def fitted(draft: Draft, hem: int) -> Draft:
    return change("taper-sleeve", to=f"{hem}mm").apply(draft)


@given(drafts(), st.integers(210, 320), amounts(5, 30), st.integers(50, 110))
@settings(max_examples=40, deadline=None)
def test_the_dart_has_its_intake_and_the_seams_are_as_equal_as_they_were(
    draft: Draft, hem: int, by: float, leg: int
) -> None:
    before = fitted(draft, hem)
    after = bend(before, by, leg=float(leg))
    assert_sound(after)
    sleeve = after.piece("sleeve")
    mouth = sleeve.mouth("elbow")
    assert abs(mouth.second - mouth.first) == pytest.approx(by, abs=1e-6)
    assert abs((mouth.first + mouth.second) / 2 - mouth.tip) == pytest.approx(leg, abs=6)
    seams = [sewn_length(sleeve.edge(name)) for name in ("back-seam", "front-seam")]
    assert seams[0] == pytest.approx(seams[1], abs=0.02)
    assert_same_lengths(before, after, within=0.6)
    assert after.edge("sleeve", "cap") is before.edge("sleeve", "cap")
    for corner in ("hem-back", "hem-front", "front-underarm"):
        was = corner_degrees(before.piece("sleeve"), corner)
        assert corner_degrees(sleeve, corner) == pytest.approx(was, abs=0.2)
    assert check(after) == ()


@given(drafts(), amounts(5, 30))
@settings(max_examples=25, deadline=None)
def test_the_forearm_turns_forward_by_what_the_dart_opens(draft: Draft, by: float) -> None:
    before = fitted(draft, 230)
    after = bend(before, by)
    was, now = before.piece("sleeve"), after.piece("sleeve")
    pieces = [(piece.corner("hem-front") - piece.corner("hem-back")) for piece in (was, now)]
    turned = float(np.angle(pieces[1] / pieces[0]))
    elbow = abs(now.mouth("elbow").first - now.mouth("elbow").second)
    level = was.level("elbow").y
    seams = [closed_points(was.edge(name)) for name in ("back-seam", "front-seam")]
    at = [np.interp(level, *_rising(points)) for points in seams]
    across = abs(at[0] - at[1])
    # Plane geometry: a chord of so much at a radius of the width across the elbow.
    assert abs(turned) == pytest.approx(2 * np.arcsin(elbow / 2 / across), rel=0.08)
    # The front of a drafted sleeve lies to the right: the wrist comes forward.
    assert now.corner("hem-front").real > was.corner("hem-front").real - 1
    assert now.corner("hem-back").real > was.corner("hem-back").real


def _rising(points: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    order = np.argsort(points.imag)
    return points.imag[order], points.real[order]


def test_both_seams_run_fair_through_the_elbow() -> None:
    sleeve = bend(fitted(block(), 220), 22).piece("sleeve")
    for name in ("back-seam", "front-seam"):
        points = closed_points(sleeve.edge(name))
        assert smallest_radius(points) > 100
        assert np.abs(np.diff(headings(points, 1.0))).max() < 1


def test_it_is_a_dart_like_any_other() -> None:
    after = bend(fitted(block(), 230), 20)
    deeper = change("deepen-dart", dart="sleeve.elbow", by="4mm").apply(after)
    mouth = deeper.piece("sleeve").mouth("elbow")
    assert abs(mouth.second - mouth.first) == pytest.approx(24, abs=1e-3)
    turned = change("rotate-dart", dart="sleeve.elbow", edge="sleeve.hem", at="30% from hem-back")
    assert check(turned.apply(after)) == ()


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = bend(block(), 15, side="left")
    assert "elbow" in after.piece("left-sleeve").dart_names
    assert after.piece("right-sleeve").dart_names == ()


# --- what is refused ------------------------------------------------------------------------------


def test_what_cannot_be_is_refused() -> None:
    with refusing(CannotChange, match="the name elbow is taken"):
        bend(bend(block(), 15), 15)
    with refusing(CannotChange, match="dart elbow opens on the back-seam; turn or release"):
        bend(bend(block(), 15), 15, name="second", at=Position("hem-back", distance=80.0))
    with refusing(CannotChange, match="dart of 300 mm would not end on the way across.*; give it"):
        bend(fitted(block(), 220), 15, leg=300.0)
    with refusing(CannotChange, match="within 30 mm of the edge's end"):
        bend(block(), 15, at=Position("hem-back", distance=10.0))
    short = change("lengthen", piece="sleeve", by="-250mm").apply(block())
    with refusing(CannotChange, match="the sleeve has no elbow; say where it lies"):
        bend(short, 15)
    with pytest.raises(BadParameter):
        AddElbowDart(by=15.0, name="El bow")


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change("add-elbow-dart", by="20mm", leg="80mm", side="left")
    assert told.in_words(Unit.CENTIMETRE) == (
        "add an elbow dart to the sleeve, 2 cm wide and 8 cm long on the left"
    )


def test_a_correction_of_the_block_arrives_through_it() -> None:
    steps = (step("t1", "taper-sleeve", to="230mm"), step("e1", "add-elbow-dart", by="18mm"))
    for correction in (
        change("lengthen", piece="sleeve", by="15mm"),
        change("widen-sleeve", by="10mm"),
        change("refit-cap", to="28mm"),
    ):
        bench = Bench(state(block_node(), child("fitted", *steps)))
        by_hand = correction.apply(bench.evaluator.draft("village"))
        by_hand = bend(change("taper-sleeve", to="230mm").apply(by_hand), 18)
        found = bench.correct("village", correction)
        came = bench.evaluator.draft("fitted").piece("sleeve")
        assert largest_shift(came, by_hand.piece("sleeve")) < 0.01
        assert pattern(found, "fitted").verdict is Verdict.CARRIED
        assert not bench.open_at("fitted")
