import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.as_far import as_far_as_it_goes
from tests.builders import block
from tests.corners import corner_degrees, sharpest_bend
from tests.fair import closed_points, smallest_radius, turns
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measure, measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position

PIECES = st.sampled_from(["front", "back"])


def true_hem(draft: Draft, piece: str, by: float | None = None) -> Draft:
    return kind_named("true-hem")(piece=piece, by=by).apply(draft)


def with_side_dart(draft: Draft) -> Draft:
    at = Position("underarm", distance=60.0)
    draft = kind_named("release-dart")(dart="front.waist-side").apply(draft)
    return kind_named("rotate-dart")(dart="front.bust", edge="front.side", at=at).apply(draft)


@given(drafts(), PIECES, st.floats(-25, 60))
@settings(max_examples=50)
def test_the_side_changes_by_the_amount_and_the_centre_stays(
    draft: Draft, piece: str, by: float
) -> None:
    assume(abs(by) > 1e-3)
    after, by = as_far_as_it_goes("true-hem", draft, by, piece=piece)
    old, new = draft.piece(piece), after.piece(piece)
    assert new.edge("side").length == pytest.approx(old.edge("side").length + by, abs=1e-6)
    assert new.edge("centre") is old.edge("centre")
    assert new.edge("hem").end == old.edge("hem").end
    assert new.edge("armhole") is old.edge("armhole")
    for corner in ("hem-side", "hem-centre"):
        assert corner_degrees(new, corner) == pytest.approx(corner_degrees(old, corner), abs=1e-4)
    assert new.is_simple


@pytest.mark.parametrize("bust", [800.0, 960.0, 1180.0])
@pytest.mark.parametrize("piece", ["front", "back"])
@pytest.mark.parametrize("by", [-40.0, -28.0, 28.0, 40.0])
def test_the_hem_turns_evenly_on_its_way_to_the_side(bust: float, piece: str, by: float) -> None:
    """It once bent as tightly at the side as a circle of 47 mm radius."""
    draft = block(bust, bust - 170.0, 400.0, 580.0)
    after = true_hem(draft, piece, by)
    hem = closed_points(after.edge(piece, "hem"))
    earlier = kind_named("true-hem", 2)(piece=piece, by=by).apply(draft)
    assert len(turns(hem, 3.0)) <= 2
    assert smallest_radius(hem) > smallest_radius(closed_points(earlier.edge(piece, "hem")))
    assert smallest_radius(hem) > 80.0
    assert not [each for each in check(after) if each.code == "wave"]


@given(drafts(), PIECES, PIECES, st.floats(-20, 40))
@settings(max_examples=40)
def test_without_an_amount_the_sides_walk_even(
    draft: Draft, uneven: str, trued: str, by: float
) -> None:
    assume(abs(by) > 1e-3)
    _, by = as_far_as_it_goes("true-hem", draft, by, piece=trued)
    short, by = as_far_as_it_goes("true-hem", draft, by * 0.99, piece=uneven)
    assert abs(measure(short, "side-seam.ease")) == pytest.approx(abs(by), abs=1e-6)
    after = true_hem(short, trued)
    assert abs(measure(after, "side-seam.ease")) < 1e-6
    other = "back" if trued == "front" else "front"
    assert after.piece(other) is short.piece(other)


def test_a_deeper_side_dart_leaves_the_front_side_short_and_the_hem_makes_it_up() -> None:
    # common practice, no source
    dart = with_side_dart(block())
    taken = kind_named("deepen-dart")(dart="front.bust", by=10.0).apply(dart)
    short = measure(taken, "side-seam.ease")
    assert short == pytest.approx(-8.4, abs=0.1)
    after = true_hem(taken, "front")
    assert measure(after, "front.side") - measure(taken, "front.side") == pytest.approx(
        -short, abs=1e-6
    )
    assert abs(measure(after, "side-seam.ease")) < 1e-6
    assert not [finding for finding in check(after) if finding.code == "seam"]


def test_waist_darts_on_the_hem_are_handled_closed() -> None:
    after = true_hem(block(), "front", 30).piece("front")
    assert after.dart_names == block().piece("front").dart_names
    for mouth in after.edge("hem").mouths:
        assert mouth.legs[0] == pytest.approx(mouth.legs[1], abs=1e-6)
    for dart in ("waist", "waist-side"):
        assert after.mouth(dart).angle == pytest.approx(block().mouth(f"front.{dart}").angle)
    assert sharpest_bend(after, "hem") < 0.01


def test_sides_that_match_already_are_left_alone() -> None:
    draft = true_hem(block(), "front")
    assert draft.piece("front") is block().piece("front")


def test_cutting_more_than_the_side_has_is_refused_with_what_is_possible() -> None:
    with refusing(CannotChange, match=r"true-hem cannot be done on front") as error:
        true_hem(block(), "front", -250)
    assert error.value.largest is not None
    assert true_hem(block(), "front", error.value.largest).piece("front").is_simple


@given(drafts(), PIECES, st.floats(-3000, 3000))
@settings(max_examples=40)
def test_no_amount_gives_a_broken_piece(draft: Draft, piece: str, by: float) -> None:
    try:
        after = true_hem(draft, piece, by)
    except GeometryError:
        return
    assert all(piece.is_simple for piece in after.pieces)


def test_without_an_amount_it_needs_the_other_side() -> None:
    front = block().only(["front"])
    with pytest.raises(NoSuchName):
        true_hem(front, "front")
    assert true_hem(front, "front", 5).piece("front").is_simple
    with pytest.raises(NoSuchName):
        true_hem(front, "back", 5)


def test_it_means_the_side() -> None:
    change = kind_named("true-hem")(piece="front")
    assert change.meant(block()) == ("front.side",)
    assert set(change.knock_on(block())) <= set(measures(block()))
