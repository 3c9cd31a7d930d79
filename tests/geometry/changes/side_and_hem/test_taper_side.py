from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import amounts, corner_degrees
from tests.fair import closed_points, sampled, smallest_radius
from tests.geometry.changes.tape_measure import angles, assert_same_lengths, sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts, side_dart_blocks
from trueup.geometry.changes import kind_named
from trueup.geometry.changes.cut_and_join.cut_apart import CutApart
from trueup.geometry.changes.side_and_hem.lengthen import Lengthen
from trueup.geometry.changes.side_and_hem.taper_side import TaperSide
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Level, Piece
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

LEVELS = st.sampled_from(["waist", "hip", "hem"])
AMOUNTS = amounts(-25, 20).filter(lambda by: abs(by) > 0.1)


@st.composite
def long_drafts(draw: st.DrawFn) -> Draft:
    """Draw tunics and dresses, some with the bust dart in the side seam."""
    base = draw(st.one_of(drafts(), side_dart_blocks()))
    by, flare = draw(st.sampled_from([350.0, 500.0, 700.0])), draw(st.sampled_from([0.0, 25.0]))
    return Lengthen(by=by, flare=flare).apply(base)


def tapered(draft: Draft, by: float, level: str, piece: str = "bodice") -> tuple[Draft, float]:
    """Return the draft with its side taken in, as far as it goes, and the amount."""
    try:
        return TaperSide(by=by, level=level, piece=piece).apply(draft), by
    except CannotChange as refusal:
        by = refusal.largest or 0.0
    assert by
    return TaperSide(by=by, level=level, piece=piece).apply(draft), by


def across(piece: Piece, y: float) -> float:
    """Return how far from the centre line of the draft the side lies at a level, by its points."""
    centre = piece.edge("hem").end.real
    met = []
    for part in piece.edge("side").parts:
        points = sampled(part)
        below = np.flatnonzero((points.imag[:-1] - y) * (points.imag[1:] - y) <= 0)
        for k in below:
            a, b = points[k], points[k + 1]
            met.append(np.interp(y, sorted((a.imag, b.imag)), (a.real, b.real)))
    return float(abs(met[-1] - centre))


@given(long_drafts(), st.sampled_from(["waist", "hip"]), AMOUNTS)
@settings(max_examples=60, deadline=None)
def test_the_line_moves_by_the_amount_at_the_level_and_not_at_the_next(
    draft: Draft, level: str, by: float
) -> None:
    after, by = tapered(draft, by, level)
    for name in ("front", "back"):
        old, new = draft.piece(name), after.piece(name)
        still = "hip" if level == "waist" else "waist"
        moved = across(old, old.level(level).y) - across(new, new.level(level).y)
        assert moved == pytest.approx(by, abs=0.02)
        there = old.level(still).y
        assert across(new, there) == pytest.approx(across(old, there), abs=0.02)
        assert new.edge("side").start == old.edge("side").start
        assert abs(new.edge("side").end - old.edge("side").end) < 10
        assert new.levels == old.levels


@given(long_drafts(), AMOUNTS)
@settings(max_examples=60, deadline=None)
def test_the_hem_moves_by_the_amount_and_nothing_above_the_hip(draft: Draft, by: float) -> None:
    after, by = tapered(draft, by, "hem")
    for name in ("front", "back"):
        old, new = draft.piece(name), after.piece(name)
        moved = abs(old.edge("side").end.real - new.edge("side").end.real)
        assert moved == pytest.approx(abs(by), abs=0.03 * abs(by) + 0.1)
        for level in ("waist", "hip"):
            y = old.level(level).y
            assert across(new, y) == pytest.approx(across(old, y), abs=0.02)
        grown = sewn_length(new.edge("hem")) - sewn_length(old.edge("hem"))
        assert grown == pytest.approx(-by, abs=0.05 * abs(by) + 0.1)


@given(long_drafts(), LEVELS, AMOUNTS, st.sampled_from(["bodice", "front", "back"]))
@settings(max_examples=80, deadline=None)
def test_both_sides_keep_their_length_and_what_held_holds(
    draft: Draft, level: str, by: float, piece: str
) -> None:
    after, by = tapered(draft, by, level, piece)
    assert_sound(after)
    hems = ("front.hem", "back.hem")
    assert_same_lengths(draft, after, *hems)
    for name in ("front", "back"):
        assert angles(after.piece(name)) == pytest.approx(angles(draft.piece(name)), abs=1e-9)
        old, new = draft.piece(name), after.piece(name)
        assert corner_degrees(new, "hem-side") == pytest.approx(
            corner_degrees(old, "hem-side"), abs=0.02
        )
        assert new.edge("hem").end == old.edge("hem").end
    was = {(each.code, each.piece, each.edge) for each in check(draft)}
    assert {(each.code, each.piece, each.edge) for each in check(after)} <= was
    if piece != "bodice":
        other = "back" if piece == "front" else "front"
        assert after.piece(other) is draft.piece(other)


@given(long_drafts(), LEVELS, AMOUNTS)
@settings(max_examples=40, deadline=None)
def test_no_line_bends_more_tightly_than_cloth_is_cut(draft: Draft, level: str, by: float) -> None:
    after, by = tapered(draft, by, level)
    for name in ("front", "back"):
        for edge in ("side", "hem"):
            old = smallest_radius(closed_points(draft.edge(name, edge)))
            new = smallest_radius(closed_points(after.edge(name, edge)))
            assert new > min(old, 60) - 0.5


@given(drafts(), amounts(-20, 12).filter(lambda by: abs(by) > 0.1))
@settings(max_examples=40, deadline=None)
def test_a_bodice_that_ends_at_the_waist_is_taken_in_there(draft: Draft, by: float) -> None:
    after, by = tapered(draft, by, "waist")
    assert after == tapered(draft, by, "hem")[0]
    assert_same_lengths(draft, after, "front.hem", "back.hem")
    for name in ("front", "back"):
        grown = sewn_length(after.edge(name, "hem")) - sewn_length(draft.edge(name, "hem"))
        assert grown == pytest.approx(-by, abs=0.05 * abs(by) + 0.1)
        for old, new in zip(
            draft.edge(name, "hem").mouths, after.edge(name, "hem").mouths, strict=True
        ):
            assert new.dart == old.dart


def test_let_out_at_the_hem_it_curves_up_to_the_side_and_nowhere_dips() -> None:
    long = Lengthen(by=550.0, flare=20.0).apply(block())
    after = TaperSide(by=-60.0, level="hem").apply(long)
    for name in ("front", "back"):
        lowest = max(sampled(after.edge(name, "hem").parts[0]).imag)
        assert lowest < max(sampled(long.edge(name, "hem").parts[0]).imag + 1e-3)
        assert after.edge(name, "side").end.imag < long.edge(name, "side").end.imag


# --- on one side, and on what is cut apart --------------------------------------------------------


def test_on_one_side_of_the_body_the_other_stays() -> None:
    long = Lengthen(by=500.0).apply(block())
    after = TaperSide(by=10.0, level="waist", side="right").apply(long)
    right = sewn_length(after.edge("right-front", "side"))
    assert right == pytest.approx(sewn_length(long.edge("front", "side")), abs=0.01)
    y = long.piece("front").level("waist").y
    moved = [across(after.piece(f"{side}-front"), y) for side in ("left", "right")]
    assert moved[0] - moved[1] == pytest.approx(10, abs=0.02)


def test_on_pieces_that_were_cut_apart_it_comes_to_the_part_at_the_side() -> None:
    princess = CutApart(
        piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
    )
    after = TaperSide(by=8.0, level="waist").apply(princess.apply(block()))
    uncut = TaperSide(by=8.0, level="waist").apply(block())
    for edge in ("side", "hem"):
        assert sewn_length(after.edge("front", edge)) == pytest.approx(
            sewn_length(uncut.edge("front", edge)), abs=0.1
        )
    assert sewn_length(after.edge("front-side", "side")) == pytest.approx(
        sewn_length(uncut.edge("front", "side")), abs=0.05
    )


# --- what is refused ------------------------------------------------------------------------------


def test_a_draft_without_a_hip_says_so() -> None:
    with refusing(CannotChange, match=r"front\.side: the front has no hip; lengthen it beyond"):
        TaperSide(by=10.0, level="hip").apply(block())


@pytest.mark.parametrize("level", ["waist", "hip", "hem"])
def test_too_much_is_refused_with_the_largest_that_fits(level: str) -> None:
    long = Lengthen(by=500.0).apply(block())
    with refusing(CannotChange, match="its amount can go as far as") as refused:
        TaperSide(by=250.0, level=level).apply(long)
    largest = refused.value.largest
    assert largest is not None
    assert 15 < largest < 200
    assert_sound(TaperSide(by=largest, level=level).apply(long))
    with refusing(CannotChange, match="its amount can go as far as"):
        TaperSide(by=largest + 0.1, level=level).apply(long)


def test_a_side_that_does_not_pass_the_level_is_refused() -> None:
    front = block().piece("front")
    low = replace(front, levels=(Level("waist", 2000.0),))
    with refusing(CannotChange, match="its side does not pass the waist; choose another level"):
        TaperSide(by=5.0, level="waist", piece="front").apply(block().with_pieces(low))


def test_a_piece_that_is_not_there_is_named() -> None:
    with pytest.raises(NoSuchName):
        TaperSide(by=5.0, level="waist", piece="front").apply(block().only(["back"]))


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    taken = change("taper-side", by="12mm", level="waist", piece="front")
    assert taken.in_words(Unit.MILLIMETRE) == (
        "take in the side of the front by 12 mm at the waist"
    )
    out = change("taper-side", by="-3cm", level="hem")
    assert out.in_words(Unit.CENTIMETRE) == "let out the side of front and back by 3 cm at the hem"


def test_an_armhole_and_a_waist_corrected_on_the_block_arrive_through_it() -> None:
    dress = (
        step("l1", "lengthen", by="500mm"),
        step("t1", "taper-side", by="10mm", level="waist"),
        step("t2", "taper-side", by="-40mm", level="hem"),
    )
    bench = Bench(state(block_node(), child("dress", *dress)))
    was = bench.evaluator.draft("dress").piece("front")
    y = was.level("waist").y
    found = bench.correct("village", change("taper-side", by="6mm", level="waist"))
    assert pattern(found, "dress").verdict is Verdict.CARRIED
    now = bench.evaluator.draft("dress").piece("front")
    assert across(was, y) - across(now, y) == pytest.approx(6, abs=0.5)
    found = bench.correct("village", change("add-ease", by="20mm"))
    assert pattern(found, "dress").verdict is Verdict.CARRIED


def test_at_the_waist_of_a_skirt_its_side_begins_and_has_no_line_to_take_in() -> None:
    body = {"waist": 720.0, "hip": 960.0, "hip-depth": 206.0, "skirt-length": 600.0}
    skirt = draft_block("straight-skirt", body)
    with refusing(CannotChange, match="its side does not pass the waist; choose another level"):
        kind_named("taper-side")(by=5.0, level="waist").apply(skirt)
    narrower = kind_named("taper-side")(by=5.0, level="hip").apply(skirt)
    assert narrower.piece("skirt-front") is not skirt.piece("skirt-front")
    first = kind_named("taper-side", 1)(by=5.0, level="waist").apply(skirt)
    hem = kind_named("taper-side", 1)(by=5.0, level="hem").apply(skirt)
    assert first == hem
