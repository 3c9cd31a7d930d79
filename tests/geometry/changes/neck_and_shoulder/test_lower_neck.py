import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.as_far import as_far_as_it_goes
from tests.builders import block
from tests.corners import amounts, corner_degrees, sharpest_bend
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft

PIECES = st.sampled_from(["front", "back"])


def lower(draft: Draft, piece: str, by: float) -> Draft:
    return kind_named("lower-neck")(piece=piece, by=by).apply(draft)


@given(drafts(), PIECES, amounts(-12, 90))
@settings(max_examples=40)
def test_the_centre_goes_down_by_the_amount_and_the_shoulder_stays(
    draft: Draft, piece: str, by: float
) -> None:
    after, by = as_far_as_it_goes("lower-neck", draft, by, piece=piece)
    old, new = draft.piece(piece), after.piece(piece)
    assert new.edge("centre").length == pytest.approx(old.edge("centre").length - by, abs=1e-6)
    was, becomes = (measures(d)[f"{piece}.neck-depth"] for d in (draft, after))
    assert becomes == pytest.approx(was + by, abs=0.01 * abs(by) + 1e-6)
    assert all(new.edge(e) is old.edge(e) for e in ("shoulder", "armhole", "side", "hem"))
    other = "back" if piece == "front" else "front"
    assert after.piece(other) is draft.piece(other)
    assert new.is_simple


@given(drafts(), PIECES, amounts(-12, 90))
@settings(max_examples=30)
def test_it_stays_square_to_the_centre_and_keeps_its_angle_to_the_shoulder(
    draft: Draft, piece: str, by: float
) -> None:
    after, _ = as_far_as_it_goes("lower-neck", draft, by, piece=piece)
    old, new = draft.piece(piece), after.piece(piece)
    for corner in ("neck-centre", "neck-point"):
        assert corner_degrees(new, corner) == pytest.approx(corner_degrees(old, corner), abs=1e-4)
    assert sharpest_bend(new, "neck") < 0.01


def test_a_lower_front_neck_is_longer() -> None:
    assert measures(lower(block(), "front", 30))["front.neck"] > measures(block())["front.neck"]


@pytest.mark.parametrize("shape", ["v", "square"])
def test_a_neck_of_straight_lines_keeps_them(shape: str) -> None:
    shaped = kind_named("shape-neck")(piece="front", shape=shape).apply(block())
    neck = lower(shaped, "front", 40).edge("front", "neck")
    assert all(cubic.is_straight for cubic in neck.parts[0].cubics)
    again = kind_named("shape-neck")(piece="front", shape=shape).apply(lower(block(), "front", 40))
    assert neck.length == pytest.approx(again.edge("front", "neck").length)


def test_raising_it_to_the_neck_point_is_refused_with_the_largest_amount() -> None:
    with refusing(CannotChange, match="up to the neck point") as refused:
        lower(block(), "back", -60)
    largest = refused.value.largest
    assert largest is not None
    assert largest < 0
    assert lower(block(), "back", largest).piece("back").is_simple


def test_lowering_it_to_the_hem_is_refused() -> None:
    with pytest.raises(CannotChange) as refused:
        lower(block(), "front", 399)
    assert refused.value.largest is not None


@given(drafts(), PIECES, amounts(-2000, 2000))
@settings(max_examples=50)
def test_no_amount_gives_a_broken_piece(draft: Draft, piece: str, by: float) -> None:
    try:
        after = lower(draft, piece, by)
    except GeometryError:
        return
    assert all(each.is_simple for each in after.pieces)


def test_a_missing_piece_is_named() -> None:
    with pytest.raises(NoSuchName, match="back"):
        lower(block().only(["front"]), "back", 10)


def test_it_means_the_depth_of_the_neck() -> None:
    change = kind_named("lower-neck")(piece="front", by=5)
    assert change.meant(block()) == ("front.neck-depth",)
    assert set(change.meant(block())) | set(change.knock_on(block())) <= set(measures(block()))
