from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import across_the_shoulder, amounts, corner_degrees
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measure, measures
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit

PIECES = st.sampled_from(["front", "back"])
SHAPES = st.sampled_from(["round", "v", "square"])


def shape(draft: Draft, piece: str, to: str) -> Draft:
    return kind_named("shape-neck")(piece=piece, shape=to).apply(draft)


@given(drafts(), PIECES, SHAPES)
@settings(max_examples=40)
def test_the_ends_stay_and_only_the_neck_is_drawn(draft: Draft, piece: str, to: str) -> None:
    old, new = draft.piece(piece), shape(draft, piece, to).piece(piece)
    assert new.edge("neck").start == old.edge("neck").start
    assert new.edge("neck").end == old.edge("neck").end
    assert all(new.edge(e) is old.edge(e) for e in old.edge_names if e != "neck")
    assert new.is_simple


@given(drafts(), PIECES, SHAPES)
@settings(max_examples=20)
def test_drawing_the_same_shape_again_changes_nothing(draft: Draft, piece: str, to: str) -> None:
    once = shape(draft, piece, to)
    assert measure(shape(once, piece, to), f"{piece}.neck") == pytest.approx(
        measure(once, f"{piece}.neck"), abs=1e-6
    )


def test_a_v_is_the_straight_line_between_its_ends() -> None:
    neck = shape(block(), "front", "v").edge("front", "neck")
    assert neck.length == pytest.approx(abs(neck.end - neck.start))


@given(drafts(), PIECES)
@settings(max_examples=10)
def test_a_square_neck_goes_across_and_up(draft: Draft, piece: str) -> None:
    after = shape(draft, piece, "square")
    found = measures(after)
    assert found[f"{piece}.neck"] == pytest.approx(
        found[f"{piece}.neck-width"] + found[f"{piece}.neck-depth"], rel=1e-3
    )
    assert corner_degrees(after.piece(piece), "neck-centre") == pytest.approx(90, abs=1e-4)


@given(drafts(), PIECES)
@settings(max_examples=10)
def test_a_round_neck_is_square_to_the_centre_and_smooth_across_the_shoulder(
    draft: Draft, piece: str
) -> None:
    for before in (draft, shape(draft, piece, "v")):
        after = shape(before, piece, "round")
        assert corner_degrees(after.piece(piece), "neck-centre") == pytest.approx(90, abs=1e-4)
        assert across_the_shoulder(after, "neck-point") == pytest.approx(180, abs=0.1)


def test_a_round_neck_beside_straight_ones_is_square_to_the_shoulder() -> None:
    both = shape(shape(block(), "front", "v"), "back", "v")
    after = shape(both, "front", "round")
    assert corner_degrees(after.piece("front"), "neck-point") == pytest.approx(90, abs=1e-4)
    alone = shape(both.only(["front"]), "front", "round")
    assert alone.piece("front") == after.piece("front")


@given(drafts(), SHAPES, amounts(5, 60), amounts(-10, 25))
@settings(max_examples=20)
def test_a_shape_is_drawn_between_whatever_ends_the_parent_gives(
    draft: Draft, to: str, down: float, out: float
) -> None:
    moved = kind_named("lower-neck")(piece="front", by=down).apply(draft)
    moved = kind_named("widen-neck")(by=out).apply(moved)
    after = shape(moved, "front", to).edge("front", "neck")
    assert after.start == moved.edge("front", "neck").start
    assert after.end == moved.edge("front", "neck").end


def test_a_neck_whose_ends_lie_level_takes_no_round_and_no_square() -> None:
    front = block().piece("front")
    top = complex(front.corner("neck-centre").real, front.corner("neck-point").imag)
    neck = replace(front.edge("neck"), parts=(Chain.line(top, front.corner("neck-point")),))
    centre = replace(front.edge("centre"), parts=(Chain.line(front.corner("hem-centre"), top),))
    level = block().with_pieces(front.with_edges(neck, centre))
    for to in ("round", "square"):
        with refusing(CannotChange, match="straight across"):
            shape(level, "front", to)


@pytest.mark.parametrize("bad", [{"shape": "heart"}, {"shape": 3}, {"piece": 3}, {"shape": None}])
def test_other_words_are_refused(bad: dict[str, object]) -> None:
    values = {"piece": "front", "shape": "v", **bad}
    with pytest.raises(BadParameter):
        read_change(kind_named("shape-neck"), values, Unit.MILLIMETRE)


def test_a_missing_piece_is_named() -> None:
    with pytest.raises(NoSuchName, match="back"):
        shape(block().only(["front"]), "back", "v")
    with pytest.raises(NoSuchName, match="not an edge of sleeve"):
        shape(block(), "sleeve", "v")


def test_it_means_the_length_of_the_neck_line() -> None:
    assert kind_named("shape-neck")(piece="front", shape="v").meant(block()) == ("front.neck",)


@pytest.mark.parametrize("shape", ["round", "v", "square"])
def test_a_shaped_neck_leaves_nothing_to_complain_of(shape: str) -> None:
    shaped = kind_named("shape-neck")(piece="front", shape=shape).apply(block())
    assert check(shaped) == ()


def test_a_neck_that_meets_a_double_pointed_dart_is_drawn_as_it_ever_was() -> None:
    draft = block()
    front = draft.piece("front")
    neck = front.edge("neck")
    corner = complex(neck.end.real, neck.start.imag)
    out = (neck.start - corner) + (neck.end - corner)
    dart = InnerDart(
        "pinched",
        corner + 0.05 * out,
        corner - 0.5 * out,
        corner - 0.2 * out - 2,
        corner - 0.2 * out + 2,
    )
    before = draft.with_pieces(replace(front, inner_darts=(dart,)))
    after = shape(before, "front", "square").piece("front")
    assert not after.outline_polygon.contains(dart.diamond)
    assert before.piece("front").outline_polygon.contains(dart.diamond)
