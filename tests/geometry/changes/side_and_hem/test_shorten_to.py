import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import amounts, corner_degrees
from tests.geometry.changes.tape_measure import sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes.side_and_hem.shorten_to import ShortenTo
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


def shorten(draft: Draft, below: float, level: str = "biceps", **more: object) -> Draft:
    return ShortenTo(below=below, level=level, **more).apply(draft)


@given(drafts(), amounts(30, 300), st.one_of(st.none(), st.integers(220, 300)))
@settings(max_examples=40, deadline=None)
def test_the_sleeve_ends_so_far_below_the_level_and_its_hem_still_runs_on(
    draft: Draft, below: float, hem: int | None
) -> None:
    before = change("taper-sleeve", to=f"{hem}mm").apply(draft) if hem else draft
    after = shorten(before, below)
    assert_sound(after)
    was, now = (each.piece("sleeve") for each in (before, after))
    for corner in ("hem-back", "hem-front"):
        assert now.corner(corner).imag - now.level("biceps").y == pytest.approx(below, abs=0.01)
        assert corner_degrees(now, corner) == pytest.approx(corner_degrees(was, corner), abs=0.01)
    seams = [sewn_length(now.edge(name)) for name in ("back-seam", "front-seam")]
    assert seams[0] == pytest.approx(seams[1], abs=0.02)
    assert now.edge("cap") is was.edge("cap")
    # Sampled: what is left of each seam is as it was.
    old, new = was.edge("back-seam").parts[0], now.edge("back-seam").parts[0]
    for share in (0.1, 0.5, 0.9):
        at = share * new.length
        assert abs(new.point_at(at) - old.point_at(at)) < 0.005
    assert check(after) == ()


def test_a_dress_becomes_a_tunic_its_side_seams_equal() -> None:
    long = change("lengthen", by="450mm", flare="20mm").apply(block())
    after = shorten(long, 100, "hip", piece="bodice")
    assert check(after) == check(long)
    for name in ("front", "back"):
        piece = after.piece(name)
        assert piece.corner("hem-side").imag - piece.level("hip").y == pytest.approx(100, abs=1e-6)
        lost = sewn_length(long.edge(name, "centre")) - sewn_length(after.edge(name, "centre"))
        assert lost == pytest.approx(450 - 300, abs=1)


def test_made_twice_it_does_no_more_than_made_once() -> None:
    once = shorten(block(), -40, "elbow")
    with refusing(CannotChange, match="sleeve has no elbow; measure from its biceps or wrist"):
        shorten(once, -40, "elbow")
    short = shorten(block(), 120)
    assert shorten(short, 120).piece("sleeve") is short.piece("sleeve")


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = shorten(block(), 120, side="left")
    assert sewn_length(after.edge("left-sleeve", "back-seam")) == pytest.approx(120)
    assert after.piece("right-sleeve").edges == block().piece("sleeve").edges


def test_a_cuff_follows_to_the_new_hem() -> None:
    tapered = change("taper-sleeve", to="230mm").apply(block())
    cuffed = change("draft-band", to="sleeve.hem", name="cuff", height="40mm").apply(tapered)
    after = shorten(cuffed, 110)
    assert sewn_length(after.edge("cuff", "sewn-edge")) == pytest.approx(
        sewn_length(after.edge("sleeve", "hem")), abs=0.01
    )


def test_what_cannot_be_is_refused() -> None:
    with refusing(CannotChange, match="ends 105.8 mm higher than that below the biceps already"):
        shorten(block(), 500)
    with refusing(CannotChange, match="upper end of the back-seam; it can end .* below the biceps"):
        shorten(block(), -200)
    with refusing(CannotChange, match="a piece that ends at the waist would end above it"):
        shorten(block(), -20, "waist", piece="front")
    elbowed = change("add-elbow-dart", by="15mm").apply(block())
    with refusing(CannotChange, match="the hem would meet the dart elbow"):
        shorten(elbowed, 120)


def test_it_is_told_in_words() -> None:
    told = change("shorten-to", below="120mm", side="left")
    assert told.in_words(Unit.CENTIMETRE) == (
        "shorten the sleeve to 12 cm below the biceps on the left"
    )
    told = change("shorten-to", below="-30mm", level="elbow")
    assert told.in_words(Unit.MILLIMETRE) == "shorten the sleeve to 30 mm above the elbow"


def test_a_correction_of_the_block_arrives_or_is_cut_off_as_the_verdict_says() -> None:
    for correction, verdict in (
        (change("raise-cap", by="5mm"), Verdict.CARRIED),
        (change("widen-sleeve", by="12mm", hem="12mm"), Verdict.CARRIED),
        (change("lengthen", piece="sleeve", by="20mm"), Verdict.LOST),
    ):
        bench = Bench(state(block_node(), child("short", step("s1", "shorten-to", below="120mm"))))
        by_hand = shorten(correction.apply(bench.evaluator.draft("village")), 120)
        found = bench.correct("village", correction)
        came = bench.evaluator.draft("short").piece("sleeve")
        assert largest_shift(came, by_hand.piece("sleeve")) < 0.01
        assert pattern(found, "short").verdict is verdict
