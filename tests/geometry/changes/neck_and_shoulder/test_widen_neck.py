import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.corners import across_the_shoulder, amounts, corner_degrees, sharpest_bend
from tests.fair import closed_points, smallest_radius, turns
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft

BODICE = ("front", "back")
AMOUNTS = amounts(-15, 30)


def widen(draft: Draft, by: float) -> Draft:
    return kind_named("widen-neck")(by=by).apply(draft)


@given(drafts(), AMOUNTS)
@settings(max_examples=40)
def test_both_shoulders_lose_exactly_the_amount_and_the_shoulder_points_stay(
    draft: Draft, by: float
) -> None:
    after = widen(draft, by)
    for name in BODICE:
        old, new = draft.piece(name), after.piece(name)
        assert new.edge("shoulder").length == pytest.approx(
            old.edge("shoulder").length - by, abs=1e-6
        )
        assert abs(new.corner("neck-point") - old.corner("neck-point")) == pytest.approx(
            abs(by), abs=1e-6
        )
        assert new.corner("shoulder-point") == old.corner("shoulder-point")
        assert new.corner("neck-centre") == old.corner("neck-centre")
        assert all(new.edge(e) is old.edge(e) for e in ("armhole", "side", "hem", "centre"))
        assert new.is_simple
    seam = "shoulder-seam.ease"
    assert measures(after)[seam] == pytest.approx(measures(draft)[seam], abs=1e-6)


@given(drafts(), AMOUNTS)
@settings(max_examples=30)
def test_the_neck_keeps_its_angles_and_runs_on_across_the_shoulder(draft: Draft, by: float) -> None:
    after = widen(draft, by)
    assert across_the_shoulder(after, "neck-point") == pytest.approx(
        across_the_shoulder(draft, "neck-point"), abs=1e-4
    )
    for name in BODICE:
        for corner in ("neck-point", "neck-centre"):
            assert corner_degrees(after.piece(name), corner) == pytest.approx(
                corner_degrees(draft.piece(name), corner), abs=1e-4
            )
        assert sharpest_bend(after.piece(name), "neck") < 0.01


@pytest.mark.parametrize("bust", [800, 960, 1040, 1180])
@pytest.mark.parametrize("by", [-15, 10, 20, 30, 35, 38])
def test_the_neck_bends_one_way_however_wide(bust: int, by: float) -> None:
    """Once the back neck waved from 30 mm on."""
    after = widen(block(float(bust), float(bust - 180)), by)
    for name in BODICE:
        line = closed_points(after.edge(name, "neck"))
        assert len(turns(line, 1.0)) == 1
        assert smallest_radius(line) > 15


def test_a_wider_neck_is_wider_on_both() -> None:
    before, after = measures(block()), measures(widen(block(), 15))
    for name in BODICE:
        assert 13 < after[f"{name}.neck-width"] - before[f"{name}.neck-width"] < 15


@pytest.mark.parametrize("shape", ["v", "square"])
def test_a_neck_of_straight_lines_keeps_them(shape: str) -> None:
    shaped = kind_named("shape-neck")(piece="front", shape=shape).apply(block())
    neck = widen(shaped, 20).edge("front", "neck")
    assert all(cubic.is_straight for cubic in neck.parts[0].cubics)


def test_widening_as_far_as_the_back_dart_is_refused_with_the_largest_amount() -> None:
    with refusing(CannotChange, match=r"back\.shoulder.*reach the dart shoulder") as refused:
        widen(block(), 60)
    largest = refused.value.largest
    assert largest is not None
    assert widen(block(), largest).piece("back").is_simple


def test_narrowing_it_away_is_refused_with_the_largest_amount() -> None:
    with pytest.raises(CannotChange) as refused:
        widen(block(), -90)
    assert refused.value.largest is not None
    assert widen(block(), refused.value.largest).piece("front").is_simple


@given(drafts(), amounts(-2000, 2000))
@settings(max_examples=50)
def test_no_amount_gives_a_broken_piece(draft: Draft, by: float) -> None:
    try:
        after = widen(draft, by)
    except GeometryError:
        return
    assert all(piece.is_simple for piece in after.pieces)


def test_a_sleeve_alone_is_refused() -> None:
    with pytest.raises(NoSuchName):
        widen(block().only(["sleeve"]), 5)


def test_it_means_the_shoulders_that_are_there() -> None:
    change = kind_named("widen-neck")(by=5)
    assert change.meant(block()) == ("front.shoulder", "back.shoulder")
    assert change.meant(block().only(["back"])) == ("back.shoulder",)
    assert set(change.knock_on(block())) <= set(measures(block()))
