import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import corner_degrees, sharpest_bend
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measure, measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position

BODICE = ("front", "back")


def add_ease(draft: Draft, by: float) -> Draft:
    return kind_named("add-ease")(by=by).apply(draft)


@given(drafts(), st.floats(-60, 160).filter(bool))
@settings(max_examples=50)
def test_each_side_moves_out_by_a_quarter_and_keeps_its_shape(draft: Draft, by: float) -> None:
    after = add_ease(draft, by)
    for name, outward in (("front", -1), ("back", 1)):
        old, new = draft.piece(name), after.piece(name)
        for corner in ("underarm", "hem-side"):
            step = new.corner(corner) - old.corner(corner)
            assert abs(step - outward * by / 4) < 1e-6
        assert new.edge("side").length == pytest.approx(old.edge("side").length, abs=1e-6)
        assert measure(after, f"{name}.bust-width") == pytest.approx(
            measure(draft, f"{name}.bust-width") + by / 4, abs=0.01
        )
        assert all(new.edge(edge) is old.edge(edge) for edge in ("neck", "shoulder", "centre"))
        for corner in ("underarm", "hem-side", "shoulder-point", "hem-centre"):
            assert corner_degrees(new, corner) == pytest.approx(
                corner_degrees(old, corner), abs=1e-4
            )
        assert max(sharpest_bend(new, edge) for edge in new.edge_names) < 0.01
        assert new.is_simple
    assert measure(after, "side-seam.ease") == pytest.approx(0, abs=1e-6)
    assert after.piece("sleeve") is draft.piece("sleeve")


def test_waist_and_armhole_grow_with_it_and_the_darts_stay() -> None:
    before, after = measures(block()), measures(add_ease(block(), 40))
    for name in BODICE:
        grown = after[f"{name}.waist-width"] - before[f"{name}.waist-width"]
        assert grown == pytest.approx(10, abs=0.5)
        assert after[f"{name}.armhole"] > before[f"{name}.armhole"]
        for dart in ("waist", "waist-side"):
            assert after[f"{name}.{dart}.intake"] == pytest.approx(
                before[f"{name}.{dart}.intake"], abs=0.5
            )


def test_ease_can_be_added_after_the_armhole_was_lowered() -> None:
    lowered = kind_named("lower-armhole")(by=25.0).apply(block())
    before, after = measures(lowered), measures(add_ease(lowered, 40))
    for name in BODICE:
        assert after[f"{name}.bust-width"] - before[f"{name}.bust-width"] == pytest.approx(
            10, abs=0.01
        )


def test_a_dart_in_the_side_is_handled_closed() -> None:
    at = Position("underarm", distance=60.0)
    rotate = kind_named("rotate-dart")(dart="front.bust", edge="front.side", at=at)
    draft = rotate.apply(kind_named("release-dart")(dart="front.waist-side").apply(block()))
    after = add_ease(draft, 40)
    mouth, old = after.mouth("front.bust"), draft.mouth("front.bust")
    assert mouth.angle == pytest.approx(old.angle)
    assert mouth.legs[0] == pytest.approx(mouth.legs[1], abs=1e-6)
    assert mouth.legs[0] > old.legs[0] + 9
    moved = after.piece("front").corner("hem-side") - draft.piece("front").corner("hem-side")
    assert moved == pytest.approx(-10)
    assert measure(after, "side-seam.ease") == pytest.approx(
        measure(draft, "side-seam.ease"), abs=1e-6
    )
    assert not [finding for finding in check(after) if finding.code not in {"seam", "kink"}]


def test_taking_in_more_than_there_is_is_refused_with_what_is_possible() -> None:
    with refusing(CannotChange, match="add-ease cannot be done on") as error:
        add_ease(block(), -1000)
    largest = error.value.largest
    assert largest is not None
    assert largest < -40
    assert add_ease(block(), largest).piece("back").is_simple


@given(drafts(), st.floats(-3000, 3000).filter(bool))
@settings(max_examples=40)
def test_no_amount_gives_a_broken_piece(draft: Draft, by: float) -> None:
    try:
        after = add_ease(draft, by)
    except GeometryError:
        return
    assert all(piece.is_simple for piece in after.pieces)


def test_a_front_alone_is_eased_and_a_sleeve_alone_is_refused() -> None:
    front = add_ease(block().only(["front"]), 8)
    assert measure(front, "front.bust-width") == pytest.approx(
        measure(block(), "front.bust-width") + 2, abs=0.01
    )
    with pytest.raises(NoSuchName):
        add_ease(block().only(["sleeve"]), 8)


def test_it_means_the_bust() -> None:
    change = kind_named("add-ease")(by=5)
    assert change.meant(block()) == ("front.bust-width", "back.bust-width")
    assert set(change.knock_on(block())) <= set(measures(block()))


def test_a_sliver_of_a_hem_is_not_drawn_straight_across_its_bend() -> None:
    """A hair's breadth of the line beside a dart was once drawn as a line of its own."""
    taken_in = add_ease(block(868.0, 710.0, 366.0, 600.0), -56.031171118260474)
    assert sharpest_bend(taken_in.piece("back"), "hem") < 0.01
