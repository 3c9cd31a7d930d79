from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.geometry.changes.darts.test_deepen_dart import panel
from tests.geometry.changes.skirts import PIECES, skirt, skirt_node, skirts
from tests.geometry.changes.tape_measure import sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.changes.darts.release_dart import ReleaseDart
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.pieces.position import Position
from trueup.lineage.replay.verdicts import Verdict

DARTS = st.sampled_from(block().dart_names)
SEWN = st.sampled_from(["front.bust", "back.shoulder"])


@given(drafts(), DARTS)
@settings(max_examples=50)
def test_the_edge_gains_exactly_the_intake(draft: Draft, dart: str) -> None:
    change = ReleaseDart(dart=dart)
    after = change.apply(draft)
    piece, edge, _ = draft.find_dart(dart)
    mouth = draft.mouth(dart)
    assert_sound(after)
    assert dart not in after.dart_names
    gained = after.edge(piece.name, edge.name).length - edge.length
    assert gained == pytest.approx(mouth.intake, abs=1e-9)
    assert change.meant(draft) == (f"{dart}.intake",)
    assert f"{piece.name}.{edge.name}" in change.knock_on(draft)
    others = [e for e in piece.edges if e is not edge]
    assert all(after.edge(piece.name, e.name) is e for e in others)
    assert all(after.piece(p.name) is p for p in draft.pieces if p is not piece)


@given(drafts(), DARTS)
@settings(max_examples=30)
def test_the_piece_gains_the_cloth_between_the_legs(draft: Draft, dart: str) -> None:
    piece, _, _ = draft.find_dart(dart)
    mouth = draft.mouth(dart)
    depth = abs((mouth.first + mouth.second) / 2 - mouth.tip)
    gained = ReleaseDart(dart=dart).apply(draft).piece(piece.name).area - piece.area
    assert gained == pytest.approx(mouth.intake * depth / 2, abs=1e-6)


def test_leaving_the_waist_dart_unsewn_adds_its_intake_at_the_waist() -> None:
    # Common practice, no source.
    change = ReleaseDart(dart="front.waist")
    before, after = measures(block()), measures(change.apply(block()))
    assert after["front.waist-width"] - before["front.waist-width"] == pytest.approx(
        before["front.waist.intake"]
    )
    assert "front.waist-width" in change.knock_on(block())


@given(drafts(), SEWN)
@settings(max_examples=30)
def test_eased_in_the_seam_walks_as_well_or_as_badly_as_before(draft: Draft, dart: str) -> None:
    after = ReleaseDart(dart=dart, eased=True).apply(draft)
    for seam in draft.seams:
        assert walk(after, after.seam(seam.name)).excess == pytest.approx(
            walk(draft, seam).excess, abs=1e-9
        )


def test_not_eased_the_seam_keeps_what_it_allowed() -> None:
    after = ReleaseDart(dart="back.shoulder").apply(block())
    assert after.seams == block().seams
    intake = block().mouth("back.shoulder").intake
    assert walk(after, after.seam("shoulder-seam")).excess == pytest.approx(intake, abs=0.01)


def test_there_is_nothing_to_ease_a_hem_into() -> None:
    with refusing(CannotChange, match="sewn to nothing"):
        ReleaseDart(dart="front.waist", eased=True).apply(block())
    with refusing(CannotChange, match="opens on no seam"):
        ReleaseDart(dart="skirt.waist", eased=True).apply(panel())


@given(st.sampled_from(["shoulder-point", "underarm"]), st.floats(0.05, 0.95))
def test_notches_stay_at_their_distance_from_their_corner(corner: str, share: float) -> None:
    front = block().piece("front")
    length = front.edge("armhole").length
    notches = (
        Notch("by-share", "armhole", Position(corner, share=share)),
        Notch("by-distance", "armhole", Position(corner, distance=50.0)),
        Notch("elsewhere", "side", Position("underarm", share=0.5)),
    )
    notched = block().with_pieces(replace(front, notches=notches))
    after = ReleaseDart(dart="front.bust").apply(notched).piece("front")
    assert after.notches[1:] == notches[1:]
    assert after.notches[0].at.corner == corner
    assert after.notches[0].at.distance == pytest.approx(share * length)


def test_a_dart_inside_a_piece_gives_its_intake_back_to_the_width() -> None:
    change = ReleaseDart(dart="skirt.waist")
    after = change.apply(panel(20))
    assert change.meant(panel(20)) == ("skirt.waist.intake",)
    assert change.knock_on(panel(20)) == ("skirt.waist-width",)
    assert after.piece("skirt").inner_darts == ()
    gained = measures(after)["skirt.waist-width"] - measures(panel(20))["skirt.waist-width"]
    assert gained == pytest.approx(20)


def test_a_dart_can_be_left_unsewn_only_once() -> None:
    change = ReleaseDart(dart="front.bust")
    after = change.apply(block())
    with pytest.raises(NoSuchName):
        change.apply(after)
    assert change.meant(after) == ()


# --- eased into a band ----------------------------------------------------------------------------


def banded(draft: Draft) -> Draft:
    return change(
        "draft-band", to="skirt-back.waist skirt-front.waist", name="band", height="40mm"
    ).apply(draft)


@given(skirts(), st.sampled_from(PIECES))
@settings(max_examples=20, deadline=None)
def test_a_band_keeps_its_length_and_takes_up_what_is_eased(draft: Draft, piece: str) -> None:
    before = banded(draft)
    after = ReleaseDart(dart=f"{piece}.waist", eased=True).apply(before)
    assert [each for each in check(after) if each.code == "seam"] == []
    bands = [sewn_length(each.edge("band", "sewn-edge")) for each in (before, after)]
    assert bands[1] == pytest.approx(bands[0], abs=1e-6)
    intake = draft.mouth(f"{piece}.waist").intake
    assert walk(after, after.seam("band-seam")).ease == pytest.approx(intake, abs=1e-6)
    # Not eased, the waist is as wide as it is cut, and the band with it.
    plain = ReleaseDart(dart=f"{piece}.waist").apply(before)
    assert sewn_length(plain.edge("band", "sewn-edge")) == pytest.approx(
        bands[0] + intake, abs=0.01
    )
    assert [each for each in check(plain) if each.code == "seam"] == []


def test_steps_made_before_still_draw_the_band_longer() -> None:
    first = kind_named("release-dart", 1)(dart="skirt-back.waist", eased=True)
    before = banded(skirt())
    after = first.apply(before)
    gained = after.edge("band", "sewn-edge").length - before.edge("band", "sewn-edge").length
    assert gained == pytest.approx(skirt().mouth("skirt-back.waist").intake)


def test_a_facing_cannot_hold_what_is_eased() -> None:
    faced = change("draft-facing", edge="skirt-back.waist", width="50mm").apply(skirt())
    with refusing(CannotChange, match="is drafted to it and would grow with it; leave out"):
        ReleaseDart(dart="skirt-back.waist", eased=True).apply(faced)
    assert ReleaseDart(dart="skirt-back.waist").apply(faced)


def test_a_correction_of_the_block_arrives_under_a_gathered_band() -> None:
    steps = [
        step("b", "draft-band", to="skirt-back.waist skirt-front.waist", name="band", height="4cm"),
        step("r", "release-dart", dart="skirt-back.waist", eased=True),
    ]
    bench = Bench(state(skirt_node(), child("gathered", *steps, of="skirt")))
    core = skirt()
    for each in (
        change("lengthen", by="40mm"),
        change("deepen-dart", dart="skirt-front.waist", by="4mm"),
    ):
        assert pattern(bench.correct("skirt", each), "gathered").verdict is Verdict.CARRIED
        core = each.apply(core)
    by_hand = banded(core)
    by_hand = ReleaseDart(dart="skirt-back.waist", eased=True).apply(by_hand)
    replayed = bench.evaluator.draft("gathered")
    for piece in by_hand.pieces:
        assert largest_shift(piece, replayed.piece(piece.name)) < 0.01
