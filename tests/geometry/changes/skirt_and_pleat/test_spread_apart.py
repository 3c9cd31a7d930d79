import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.corners import amounts, corner_degrees
from tests.fair import closed_points, smallest_radius
from tests.geometry.changes.skirts import PIECES, skirt, skirt_node, skirts
from tests.geometry.changes.tape_measure import assert_same_lengths, cloth_area, sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from trueup.geometry.changes.skirt_and_pleat.spread_apart import SpreadApart
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import BandTo
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

AMOUNTS = amounts(20, 400)
COUNTS = st.integers(1, 8)


def without_darts(draft: Draft) -> Draft:
    for piece in PIECES:
        draft = change("dart-to-flare", dart=f"{piece}.waist").apply(draft)
    return draft


@st.composite
def spreads(draw: st.DrawFn) -> tuple[Draft, Draft, str, float]:
    before, piece, by = without_darts(draw(skirts())), draw(st.sampled_from(PIECES)), draw(AMOUNTS)
    slashes = draw(COUNTS)
    after = SpreadApart(edge=f"{piece}.waist", by=by, slashes=slashes).apply(before)
    return before, after, piece, by


@given(spreads())
@settings(max_examples=60, deadline=None)
def test_both_edges_gain_alike_and_the_rest_moves_along_as_it_is(
    made: tuple[Draft, Draft, str, float],
) -> None:
    before, after, piece, by = made
    assert_sound(after)
    was, now = before.piece(piece), after.piece(piece)
    grown = {name: sewn_length(now.edge(name)) - sewn_length(was.edge(name)) for name in
             ("waist", "hem")}  # fmt: skip
    assert grown["waist"] == pytest.approx(by, abs=0.05)
    assert grown["hem"] == pytest.approx(by, rel=0.05)
    assert_same_lengths(before, after, f"{piece}.waist", f"{piece}.hem")
    assert now.edge("centre") is was.edge("centre")
    # Every point of the side moves square to the centre by one and the same amount.
    steps = closed_points(now.edge("side")) - closed_points(was.edge("side"))
    assert np.abs(steps - steps[0]).max() < 1e-6
    assert abs(steps[0].imag) < 1e-9
    assert abs(steps[0]) == pytest.approx(by, rel=0.1)
    for edge in was.edges:
        corner = edge.starts_at
        assert corner_degrees(now, corner) == pytest.approx(corner_degrees(was, corner), abs=0.01)
    height = was.corner("hem-centre").imag - was.corner("waist-centre").imag
    gained = (cloth_area(now) - cloth_area(was)) / abs(steps[0])
    assert 0.85 * height < gained < 1.1 * height
    for name in ("waist", "hem"):
        old = smallest_radius(closed_points(was.edge(name)))
        assert smallest_radius(closed_points(now.edge(name))) > min(old, 15) - 0.6


@given(spreads())
@settings(max_examples=30, deadline=None)
def test_what_held_holds(made: tuple[Draft, Draft, str, float]) -> None:
    before, after, piece, _ = made
    assert {(each.code, each.piece, each.edge) for each in check(after)} <= {
        (each.code, each.piece, each.edge) for each in check(before)
    }
    other = PIECES[1 - PIECES.index(piece)]
    assert after.piece(other) is before.piece(other)


def banded() -> Draft:
    to = "skirt-back.waist skirt-front.waist"
    band = change("draft-band", to=to, name="waistband", height="40mm", gathers="10mm")
    return band.apply(without_darts(skirt()))


def test_a_band_keeps_its_length_and_holds_the_fullness_gathered() -> None:
    before = banded()
    after = SpreadApart(edge="skirt-back.waist", by=150.0).apply(before)
    after = SpreadApart(edge="skirt-front.waist", by=100.0).apply(after)
    assert largest_shift(before.piece("waistband"), after.piece("waistband")) < 1e-3
    (to,) = after.drafted
    assert isinstance(to, BandTo)
    assert to.gathers == pytest.approx(260)
    seam = after.seam("waistband-seam")
    assert (seam.allowed.low, seam.allowed.high) == pytest.approx((235, 285))
    assert check(after) == ()
    # It goes on following the line: what the waist gains later, the band gains.
    wider = change("add-ease", by="24mm").apply(after)
    gains = [
        sum(sewn_length(d.edge(p, "waist")) for p in PIECES) for d in (wider, after)
    ]  # fmt: skip
    bands = [sewn_length(d.edge("waistband", "sewn-edge")) for d in (wider, after)]
    assert bands[0] - bands[1] == pytest.approx(gains[0] - gains[1], abs=0.01)


def test_a_seam_that_is_no_bands_must_hold_what_was_spread() -> None:
    cut = change(
        "cut-apart", piece="skirt-back", begins="side", ends="centre", line="yoke",
        at="130mm from waist-side", ends_at="135mm from waist-centre",
    )  # fmt: skip
    before = cut.apply(skirt())
    after = SpreadApart(edge="skirt-back-lower.yoke", by=180.0).apply(before)
    seam = after.seam("skirt-back-yoke")
    assert sorted(map(abs, (seam.allowed.low, seam.allowed.high))) == pytest.approx([162, 198])
    assert not [each for each in check(after) if each.code == "seam"]
    assert sewn_length(after.edge("skirt-back-upper", "yoke")) == pytest.approx(
        sewn_length(before.edge("skirt-back-upper", "yoke")), abs=1e-6
    )


def test_a_notch_keeps_its_share_of_the_edge_and_a_dart_its_strip() -> None:
    draft = without_darts(skirt())
    draft = change("mark-notch", edge="skirt-back.waist", at="50mm from waist-centre").apply(draft)
    share = 50 / sewn_length(draft.edge("skirt-back", "waist"))
    after = SpreadApart(edge="skirt-back.waist", by=100.0).apply(draft)
    notch = next(n for n in after.piece("skirt-back").notches if n.name == "notch")
    assert notch.at.share == pytest.approx(share, abs=1e-4)


def test_gathers_that_a_correction_eats_up_are_told() -> None:
    draft = without_darts(skirt())
    to = "skirt-back.waist"
    draft = change("draft-band", to=to, name="band", height="40mm").apply(draft)
    draft = SpreadApart(edge=to, by=60.0, least=58.0, most=70.0).apply(draft)
    assert (draft.seam("band-seam").allowed.low, draft.seam("band-seam").allowed.high) == (58, 70)
    with refusing(CannotChange, match="drafted to it and would grow with it|facing"):
        facing = change("draft-facing", edge="skirt-front.waist", width="50mm").apply(draft)
        SpreadApart(edge="skirt-front.waist", by=60.0).apply(facing)
    with refusing(BadParameter, match="at most 60 mm"):
        SpreadApart(edge=to, by=60.0, least=61.0)
    with refusing(BadParameter, match="at least 60 mm"):
        SpreadApart(edge=to, by=60.0, most=59.0)


# --- what is refused ------------------------------------------------------------------------------


def test_darts_that_open_on_the_edge_are_refused() -> None:
    with refusing(CannotChange, match="the dart waist opens on the waist; turn or release"):
        SpreadApart(edge="skirt-back.waist", by=100.0).apply(skirt())
    parts = change(
        "cut-apart", piece="skirt-back", begins="side", ends="centre", line="yoke",
        at="60mm from waist-side", ends_at="60mm from waist-centre",
    )  # fmt: skip
    with refusing(CannotChange, match=r"opens on the|would cross"):
        SpreadApart(edge="skirt-back-lower.yoke", by=100.0).apply(parts.apply(skirt()))


def test_slashes_that_do_not_come_to_the_other_edge_are_refused() -> None:
    draft = without_darts(skirt())
    with refusing(CannotChange, match=r"along the waist would not come to the side; use fewer"):
        SpreadApart(edge="skirt-back.waist", by=100.0, ends="side").apply(draft)
    with refusing(CannotChange, match="lies on the fold of the cloth; name another edge"):
        SpreadApart(edge="skirt-front.centre", by=100.0, ends="side").apply(draft)
    with refusing(CannotChange, match="begin and end on one edge"):
        SpreadApart(edge="skirt-back.hem", by=100.0).apply(draft)
    with refusing(BadParameter, match="whole number"):
        SpreadApart(edge="skirt-back.waist", by=100.0, slashes=1.5)


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change("spread-apart", edge="skirt-back.waist", by="12cm", side="left")
    assert told.in_words(Unit.CENTIMETRE) == (
        "spread skirt-back.waist apart by 12 cm down to the hem, over 4 slashes on the left"
    )


def test_corrections_of_the_block_arrive_through_it() -> None:
    steps = [
        *(step(f"d{k}", "dart-to-flare", dart=f"{p}.waist") for k, p in enumerate(PIECES)),
        step("b", "draft-band", to="skirt-back.waist", name="band", height="40mm"),
        step("s", "spread-apart", edge="skirt-back.waist", by="150mm"),
    ]
    bench = Bench(state(skirt_node(), child("full", *steps, of="skirt")))
    core = skirt()
    for each in (change("lengthen", by="50mm"), change("add-ease", by="24mm")):
        found = bench.correct("skirt", each)
        assert pattern(found, "full").verdict is Verdict.CARRIED
        core = each.apply(core)
    core = without_darts(core)
    core = change("draft-band", to="skirt-back.waist", name="band", height="40mm").apply(core)
    core = change("spread-apart", edge="skirt-back.waist", by="150mm").apply(core)
    replayed = bench.evaluator.draft("full")
    for piece in core.piece_names:
        assert largest_shift(core.piece(piece), replayed.piece(piece)) < 0.01
    assert core.seams == replayed.seams


def test_fullness_given_to_the_block_arrives_in_a_longer_one() -> None:
    node = skirt_node("skirt", *(step(f"d{k}", "dart-to-flare", dart=f"{p}.waist") for k, p in
                                 enumerate(PIECES)))  # fmt: skip
    bench = Bench(state(node, child("long", step("l", "lengthen", by="80mm"), of="skirt")))
    found = bench.correct("skirt", change("spread-apart", edge="skirt-back.waist", by="90mm"))
    assert pattern(found, "long").verdict is Verdict.CARRIED
