import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import across_the_sleeve_seam, amounts, corner_degrees
from tests.fair import closed_points
from tests.geometry.changes.tape_measure import assert_same_lengths, sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes.sleeve.taper_sleeve import TaperSleeve
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


def taper(draft: Draft, to: float, elbow: float | None = None, **more: object) -> Draft:
    return TaperSleeve(to=to, elbow=elbow, **more).apply(draft)


def width(sleeve: Piece, y: float) -> float:
    """Return how far the two seams lie apart on a level, sampled."""
    places = []
    for name in ("back-seam", "front-seam"):
        points = closed_points(sleeve.edge(name))
        order = np.argsort(points.imag)
        places.append(np.interp(y, points.imag[order], points.real[order]))
    return float(abs(places[0] - places[1]))


@given(drafts(), amounts(190, 420), st.one_of(st.none(), amounts(-15, 25)))
@settings(max_examples=40, deadline=None)
def test_hem_and_elbow_have_the_widths_and_both_seams_are_equal(
    draft: Draft, to: float, wider: float | None
) -> None:
    plain = taper(draft, to)
    level = draft.piece("sleeve").level("elbow").y
    elbow = None if wider is None else round(width(plain.piece("sleeve"), level) + wider, 2)
    after = taper(draft, to, elbow)
    assert_sound(after)
    sleeve = after.piece("sleeve")
    assert sewn_length(sleeve.edge("hem")) == pytest.approx(to, abs=0.01)
    if elbow is not None:
        assert width(sleeve, level) == pytest.approx(elbow, abs=0.05)
    seams = [sewn_length(sleeve.edge(name)) for name in ("back-seam", "front-seam")]
    assert seams[0] == pytest.approx(seams[1], abs=0.02)
    for corner in ("hem-back", "hem-front"):
        was = corner_degrees(draft.piece("sleeve"), corner)
        assert corner_degrees(sleeve, corner) == pytest.approx(was, abs=0.5)
    for corner in ("front-underarm", "back-underarm"):
        assert sleeve.corner(corner) == draft.piece("sleeve").corner(corner)
    assert across_the_sleeve_seam(after) == pytest.approx(180, abs=2)
    assert_same_lengths(draft, after, *(f"sleeve.{edge}" for edge in sleeve.edge_names))
    assert abs(sewn_length(sleeve.edge("cap")) - sewn_length(draft.edge("sleeve", "cap"))) < 3
    assert check(after) == ()


def test_made_twice_it_does_no_more_than_made_once() -> None:
    once = taper(block(), 220, 270)
    again = taper(once, 220, 270)
    assert largest_shift(once.piece("sleeve"), again.piece("sleeve")) < 0.01


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = taper(block(), 230, side="left")
    assert sewn_length(after.edge("left-sleeve", "hem")) == pytest.approx(230, abs=0.01)
    assert after.piece("right-sleeve").edges == block().piece("sleeve").edges


def test_what_cannot_be_is_refused() -> None:
    with refusing(CannotChange, match="as far as"):
        taper(block(), 1500)
    elbowed = change("add-elbow-dart", by="15mm").apply(block())
    with refusing(CannotChange, match="dart elbow opens on the back-seam; leave the width at the"):
        taper(elbowed, 220, 270)
    assert check(taper(elbowed, 220)) == ()
    short = change("lengthen", piece="sleeve", by="-250mm").apply(block())
    with refusing(CannotChange, match="sleeve has no elbow; leave the width at the elbow out"):
        taper(short, 220, 270)


def test_it_is_told_in_words() -> None:
    told = change("taper-sleeve", to="220mm", elbow="270mm", side="left")
    assert told.in_words(Unit.CENTIMETRE) == (
        "taper the sleeve to 22 cm at the hem, 27 cm at the elbow on the left"
    )


def test_a_correction_of_the_block_arrives_or_is_overwritten_as_the_verdict_says() -> None:
    values = {"to": "230mm", "elbow": "280mm"}
    for correction, verdict in (
        (change("lengthen", piece="sleeve", by="-12mm"), Verdict.CARRIED),
        (change("raise-cap", by="5mm"), Verdict.CARRIED),
        (change("widen-sleeve", by="0mm", hem="14mm"), Verdict.LOST),
    ):
        bench = Bench(state(block_node(), child("fitted", step("t1", "taper-sleeve", **values))))
        village = bench.evaluator.draft("village")
        by_hand = change("taper-sleeve", **values).apply(correction.apply(village))
        found = bench.correct("village", correction)
        came = bench.evaluator.draft("fitted").piece("sleeve")
        assert largest_shift(came, by_hand.piece("sleeve")) < 0.01
        assert pattern(found, "fitted").verdict is verdict
