import json

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import corner_degrees
from tests.fair import closed_points, smallest_radius
from tests.geometry.changes.skirts import skirt
from tests.geometry.changes.tape_measure import sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes.side_and_hem.shape_hem import HemLine, ShapeHem
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.units import Unit
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.evaluation.plain import read_draft, to_bytes
from trueup.lineage.replay.verdicts import Verdict

RISES = st.integers(15, 80).map(float)
DIPS = st.integers(0, 60).map(float)
LONG = change("lengthen", by="320mm", flare="8mm")
PIECES = ("front", "back")


def found_in(draft: Draft) -> set[tuple[str, str, str]]:
    return {(each.code, each.piece, each.edge) for each in check(draft)}


@given(drafts(), RISES, DIPS, st.sampled_from([*HemLine]))
@settings(max_examples=60, deadline=None)
def test_a_hem_is_raised_at_the_side_and_lowered_at_the_centre_by_as_much(
    draft: Draft, rise: float, dip: float, shape: HemLine
) -> None:
    before = LONG.apply(draft)
    after = ShapeHem(rise=rise, dip=dip, shape=shape).apply(before)
    assert_sound(after)
    assert found_in(after) <= found_in(before)
    for name in PIECES:
        was, now = before.piece(name), after.piece(name)
        side, centre = (
            sewn_length(now.edge(e)) - sewn_length(was.edge(e)) for e in ("side", "centre")
        )
        assert side == pytest.approx(-rise, abs=0.02)
        assert centre == pytest.approx(dip, abs=0.02)
        hem = closed_points(now.edge("hem"))
        # The side end lies highest, the centre lowest, and nothing beyond them.
        assert np.diff(hem.imag).min() > -6.0
        assert smallest_radius(hem) > 14.5
        if shape is HemLine.SHIRT_TAIL:
            for corner in ("hem-side", "hem-centre"):
                degrees = corner_degrees(was, corner)
                assert corner_degrees(now, corner) == pytest.approx(degrees, abs=0.05)
    assert after.seams == before.seams


@given(drafts(), RISES, st.integers(60, 150).map(float))
@settings(max_examples=30, deadline=None)
def test_beyond_its_reach_the_hem_stays_where_it_was(
    draft: Draft, rise: float, reach: float
) -> None:
    before = LONG.apply(draft)
    try:
        after = ShapeHem(rise=rise, reach=reach).apply(before)
    except CannotChange:
        # So short a way down takes no more than bends that can be sewn.
        assert rise > reach / 4
        return
    for name in PIECES:
        was, now = (closed_points(each.edge(name, "hem")) for each in (before, after))
        along = np.cumsum(np.abs(np.diff(was, prepend=was[0])))
        beyond = was[along > reach + 1]
        line = shapely.LineString(np.column_stack((now.real, now.imag)))
        assert shapely.distance(line, shapely.points(beyond.real, beyond.imag)).max() < 0.02


@given(drafts(), st.integers(-60, 60).filter(bool).map(float), st.sampled_from(PIECES))
@settings(max_examples=30, deadline=None)
def test_a_step_lets_one_piece_hang_longer_and_states_that_it_is_meant(
    draft: Draft, by: float, piece: str
) -> None:
    before = LONG.apply(draft)
    after = ShapeHem(longer=by, piece=piece).apply(before)
    assert found_in(after) <= found_in(before)
    was, now = before.piece(piece), after.piece(piece)
    for edge in ("side", "centre"):
        grown = sewn_length(now.edge(edge)) - sewn_length(was.edge(edge))
        assert grown == pytest.approx(by, abs=0.02)
    # A hem that only hangs lower keeps its shape.
    ways = [each.edge("hem").end - each.edge("hem").start for each in (was, now)]
    assert abs(ways[1] - ways[0]) < 0.06 * abs(by)
    seam = after.seam("side-seam")
    sign = 1 if piece == "front" else -1
    assert seam.allowed.low == seam.allowed.high == pytest.approx(sign * by, abs=0.02)
    # What is not meant is found as before.
    off = change("true-hem", piece="back", by="6mm").apply(after)
    assert any(each.code == "seam" for each in check(off))


def test_made_on_one_after_the_other_the_side_seam_is_even_again() -> None:
    draft = LONG.apply(block())
    one = ShapeHem(rise=60.0, dip=25.0, piece="back").apply(draft)
    assert one.seam("side-seam").allowed.low == pytest.approx(60, abs=0.02)
    both = ShapeHem(rise=60.0, piece="front").apply(one)
    assert both.seam("side-seam").allowed.low == pytest.approx(0, abs=0.02)
    assert check(both) == check(draft)


def test_a_skirt_dips_behind() -> None:
    after = ShapeHem(dip=80.0, piece="skirt-back", shape="round").apply(skirt())
    back = after.piece("skirt-back")
    assert sewn_length(back.edge("centre")) == pytest.approx(680, abs=0.02)
    assert sewn_length(back.edge("side")) == pytest.approx(
        sewn_length(skirt().edge("skirt-back", "side")), abs=1e-6
    )
    assert after.seams == skirt().seams
    assert not found_in(after)


def test_a_shirt_tail_survives_a_file_and_is_drawn_on_by_later_steps() -> None:
    after = ShapeHem(rise=60.0).apply(LONG.apply(block()))
    assert after.edge("back", "hem").shaped
    assert read_draft(to_bytes(after)) == after
    assert read_form(json.dumps(draft_form(after)), "x.svg").pieces == after.pieces
    plain = ShapeHem(rise=60.0, shape="round").apply(LONG.apply(block()))
    assert not plain.edge("back", "hem").shaped
    assert fingerprint(plain) != fingerprint(after)
    longer = change("lengthen", by="40mm").apply(after)
    assert not [each for each in check(longer) if each.code == "wave"]


def test_on_one_side_of_the_body() -> None:
    after = ShapeHem(rise=50.0, side="left").apply(LONG.apply(block()))
    sides = [sewn_length(after.edge(f"{side}-front", "side")) for side in ("left", "right")]
    assert sides[1] - sides[0] == pytest.approx(50, abs=0.02)


# --- what is refused ------------------------------------------------------------------------------


def test_too_much_is_refused_with_what_can_be_done() -> None:
    draft = LONG.apply(block())
    with refusing(CannotChange, match=r"with 400 mm .*; its amount can go as far as") as refused:
        ShapeHem(rise=400.0).apply(draft)
    largest = refused.value.largest
    assert largest is not None
    assert largest > 60
    assert_sound(ShapeHem(rise=largest).apply(draft))


def test_nothing_to_do_and_a_piece_without_a_centre_are_refused() -> None:
    with refusing(BadParameter, match="0 would change nothing"):
        ShapeHem()
    with refusing(CannotChange, match="does not run from a side to the centre; name another"):
        ShapeHem(rise=20.0, piece="sleeve").apply(block())
    with pytest.raises(NoSuchName):
        ShapeHem(rise=20.0, piece="peplum").apply(block())


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change("shape-hem", rise="70mm", dip="20mm", piece="back")
    assert told.in_words(Unit.MILLIMETRE) == (
        "shape the hem of the back with rise 70 mm and dip 20 mm"
    )


def test_corrections_of_the_block_arrive_under_a_shaped_hem() -> None:
    steps = [
        step("l", "lengthen", by="320mm", flare="8mm"),
        step("s", "shape-hem", rise="60mm", dip="20mm", piece="back"),
    ]
    bench = Bench(state(block_node(), child("shirt", *steps)))
    core = bench.evaluator.draft("village")
    for each in (change("shorten-shoulder", by="6mm"), change("add-ease", by="20mm")):
        found = bench.correct("village", each)
        assert pattern(found, "shirt").verdict is Verdict.CARRIED
        core = each.apply(core)
    by_hand = change("shape-hem", rise="60mm", dip="20mm", piece="back").apply(LONG.apply(core))
    replayed = bench.evaluator.draft("shirt")
    for piece in PIECES:
        assert largest_shift(by_hand.piece(piece), replayed.piece(piece)) < 0.01
    assert by_hand.seams == replayed.seams


def test_a_step_taken_in_the_block_is_judged_by_its_sides() -> None:
    bench = Bench(state(block_node("village", step("l", "lengthen", by="320mm")), child("long")))
    found = bench.correct("village", change("shape-hem", longer="30mm", piece="back"))
    assert pattern(found, "long").verdict is Verdict.CARRIED
