import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import corner_degrees, sharpest_bend
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measure, measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position

BODICE = ("front", "back")


def lengthen(draft: Draft, by: float, piece: str = "bodice", flare: float = 0.0) -> Draft:
    return kind_named("lengthen")(by=by, piece=piece, flare=flare).apply(draft)


@given(drafts(), st.floats(10, 900), st.floats(0, 60))
@settings(max_examples=50)
def test_the_hem_moves_straight_down_and_the_sides_walk_even(
    draft: Draft, by: float, flare: float
) -> None:
    after = lengthen(draft, by, flare=flare)
    for name, outward in (("front", -1), ("back", 1)):
        old, new = draft.piece(name), after.piece(name)
        step = new.corner("hem-side") - old.corner("hem-side")
        assert abs(step - complex(outward * flare, by)) < 1e-6
        assert abs(new.corner("hem-centre") - old.corner("hem-centre") - by * 1j) < 1e-6
        assert all(new.edge(e) is old.edge(e) for e in ("neck", "shoulder", "armhole"))
        assert max(sharpest_bend(new, edge) for edge in new.edge_names) < 0.01
        for corner in ("hem-side", "hem-centre"):
            assert corner_degrees(new, corner) == pytest.approx(
                corner_degrees(old, corner), abs=1e-4
            )
        assert new.is_simple
    assert measure(after, "front.centre") == pytest.approx(
        measure(draft, "front.centre") + by, abs=1e-6
    )
    assert measure(after, "side-seam.ease") == pytest.approx(0, abs=0.1)
    assert check(after) == ()


@given(drafts(), st.floats(10, 900))
@settings(max_examples=30)
def test_waist_darts_become_double_pointed_and_the_hem_is_whole(draft: Draft, by: float) -> None:
    after = lengthen(draft, by)
    for name in BODICE:
        old, new = draft.piece(name), after.piece(name)
        assert set(new.dart_names) == set(old.dart_names)
        assert new.edge("hem").darts == ()
        mouths = {mouth.dart.name: mouth for mouth in old.edge("hem").mouths}
        for dart in new.inner_darts:
            mouth = mouths[dart.name]
            assert dart.upper == mouth.tip
            assert {dart.left, dart.right} == {mouth.first, mouth.second}
            assert dart.left.real < dart.right.real
            below = dart.lower - (mouth.first + mouth.second) / 2
            assert below.real == pytest.approx(0, abs=1e-9)
            assert below.imag == pytest.approx(min(0.9 * by, max(by - 6, 0.3 * by), 130), abs=0.5)
        waist = new.level("waist")
        assert waist.along is None
        assert waist.y == pytest.approx(old.corner("hem-centre").imag)
        assert new.has_level("hip") == (by >= 200)
        assert measure(after, f"{name}.waist-width") == pytest.approx(
            measure(draft, f"{name}.waist-width"), abs=3
        )


def test_the_hip_is_known_when_the_hem_reaches_it() -> None:
    at_hip = lengthen(block(), 200)
    assert at_hip.piece("front").level("hip").along == "hem"
    assert measure(at_hip, "front.hip-width") == pytest.approx(measure(at_hip, "front.hem"))
    further = lengthen(at_hip, 100).piece("front").level("hip")
    assert further.along is None
    assert further.y == pytest.approx(at_hip.piece("front").level("waist").y + 200)
    assert lengthen(lengthen(block(), 150), 60).piece("back").has_level("hip")


@given(drafts(), st.floats(160, 600), st.floats(0.02, 0.7))
@settings(max_examples=30)
def test_what_was_lengthened_can_be_cut_off_again(draft: Draft, by: float, share: float) -> None:
    cut = -(by - 140) * share
    longer = lengthen(draft, by)
    after = lengthen(longer, cut)
    for name in BODICE:
        assert measure(after, f"{name}.centre") == pytest.approx(
            measure(longer, f"{name}.centre") + cut, abs=1e-6
        )
        assert after.piece(name).inner_darts == longer.piece(name).inner_darts
        assert after.piece(name).is_simple
    assert measure(after, "side-seam.ease") == pytest.approx(0, abs=0.1)


def test_a_bodice_that_ends_at_the_waist_cannot_be_cut_shorter() -> None:
    with refusing(CannotChange, match=r"front\.hem.*ends at the waist"):
        lengthen(block(), -50)


def test_cutting_into_the_waist_darts_is_refused_with_what_is_possible() -> None:
    longer = lengthen(block(), 300)
    with refusing(CannotChange, match=r"the dart .* would|of cloth would be left") as error:
        lengthen(longer, -200)
    largest = error.value.largest
    assert error.value.dart in ("waist", "waist-side")
    assert largest == pytest.approx(-165, abs=0.3)
    assert check(lengthen(longer, largest)) == ()


@given(drafts(), st.floats(2, 200))
@settings(max_examples=30)
def test_a_sleeve_grows_longer_and_keeps_the_width_of_its_hem(draft: Draft, by: float) -> None:
    narrowed = kind_named("widen-sleeve")(by=-20.0, hem=-90.0).apply(draft)
    after = lengthen(narrowed, by, "sleeve")
    old, new = narrowed.piece("sleeve"), after.piece("sleeve")
    for corner in ("hem-front", "hem-back"):
        assert abs(new.corner(corner) - old.corner(corner) - by * 1j) < 1e-6
        assert corner_degrees(new, corner) == pytest.approx(corner_degrees(old, corner), abs=1e-4)
    assert measure(after, "sleeve-seam.ease") == pytest.approx(0, abs=1e-6)
    assert new.edge("cap").parts[0].cubics == old.edge("cap").parts[0].cubics
    assert after.piece("front") is narrowed.piece("front")


@given(drafts(), st.floats(-330, -5))
@settings(max_examples=30)
def test_a_sleeve_is_shortened_by_cutting_it_off(draft: Draft, by: float) -> None:
    after = lengthen(draft, by, "sleeve")
    for seam in ("back-seam", "front-seam"):
        assert measure(after, f"sleeve.{seam}") == pytest.approx(
            measure(draft, f"sleeve.{seam}") + by, abs=1e-6
        )
    hem = max(p.imag for p in after.edge("sleeve", "hem").parts[0].flattened())
    sleeve = after.piece("sleeve")
    assert all(level.along or level.y <= hem for level in sleeve.levels)
    assert sleeve.grainline is not None
    assert sleeve.grainline.end.imag < hem


def test_a_sleeve_cut_above_its_underarm_is_refused_with_what_is_possible() -> None:
    with refusing(CannotChange, match=r"lengthen cannot be done on sleeve\.") as error:
        lengthen(block(), -600, "sleeve")
    largest = error.value.largest
    assert largest is not None
    assert largest < -350
    assert lengthen(block(), largest, "sleeve").piece("sleeve").is_simple


def test_a_dart_in_the_side_is_left_where_it_is() -> None:
    at = Position("underarm", distance=60.0)
    rotate = kind_named("rotate-dart")(dart="front.bust", edge="front.side", at=at)
    draft = rotate.apply(kind_named("release-dart")(dart="front.waist-side").apply(block()))
    after = lengthen(draft, 250)
    assert after.mouth("front.bust") == draft.mouth("front.bust")


@given(
    drafts(),
    st.floats(-3000, 3000).filter(bool),
    st.sampled_from(["bodice", "front", "back", "sleeve"]),
    st.booleans(),
)
@settings(max_examples=60)
def test_no_amount_gives_a_broken_piece(draft: Draft, by: float, piece: str, long: bool) -> None:
    start = lengthen(draft, 300) if long else draft
    try:
        after = lengthen(start, by, piece)
    except GeometryError:
        return
    assert all(piece.is_simple for piece in after.pieces)


def test_it_needs_what_it_lengthens() -> None:
    with pytest.raises(NoSuchName):
        lengthen(block().only(["sleeve"]), 50)
    with pytest.raises(NoSuchName):
        lengthen(block().only(["front", "back"]), 50, "sleeve")
    assert lengthen(block().only(["front"]), 50).piece("front").is_simple


def test_a_shorter_piece_cannot_be_flared() -> None:
    with refusing(BadParameter, match="flare"):
        lengthen(block(), -20, "sleeve", flare=10)


def test_it_means_the_centres_or_the_sleeve_seams() -> None:
    kind = kind_named("lengthen")
    assert kind(by=5).meant(block()) == ("front.centre", "back.centre")
    assert kind(by=5, piece="front").meant(block()) == ("front.centre",)
    assert kind(by=5, piece="sleeve").meant(block()) == ("sleeve.back-seam", "sleeve.front-seam")
    assert set(kind(by=5).knock_on(block())) <= set(measures(block()))
