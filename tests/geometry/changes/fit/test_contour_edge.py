import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled, turns
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit

NECK = {"dart": "front.bust", "edge": "front.neck"}
ARMHOLE = {"dart": "front.bust", "edge": "front.armhole"}


def contoured(draft: Draft, by: float, **values: object) -> Draft:
    return kind_named("contour-edge")(**{**NECK, "by": by, **values}).apply(draft)


def low_neck(draft: Draft, by: float) -> Draft:
    return kind_named("lower-neck")(piece="front", by=by).apply(draft)


def at_side(draft: Draft) -> Draft:
    return kind_named("rotate-dart")(
        dart="front.bust", edge="front.side", at=Position("underarm", share=0.3)
    ).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def angle(piece: Piece, dart: str) -> float:
    mouth = piece.mouth(dart)
    return float(abs(np.angle((mouth.first - mouth.dart.apex) / (mouth.second - mouth.dart.apex))))


@given(drafts(), st.floats(1, 15), st.floats(0.14, 0.26), st.floats(40, 90))
@settings(max_examples=40, deadline=None)
def test_a_low_neck_loses_the_amount_and_the_dart_takes_it_in(
    draft: Draft, by: float, share: float, low: float
) -> None:
    before = low_neck(draft, low)
    after = contoured(before, by, at=Position("neck-centre", share=share))
    assert_sound(after)
    old, new = before.piece("front"), after.piece("front")
    assert length(new.edge("neck")) == pytest.approx(length(old.edge("neck")) - by, abs=4e-3)
    for name in ("shoulder", "armhole", "side", "hem", "centre"):
        assert length(new.edge(name)) == pytest.approx(length(old.edge(name)), abs=1e-6), name
    assert new.edge("centre") == old.edge("centre")
    bust = old.mouth("bust").dart.apex
    assert new.mouth("bust").dart.apex == bust
    # Square to the edge the wedge has the width that the edge loses; aslant it has to be wider.
    away = abs(old.edge("neck").point_at(share * old.edge("neck").length) - bust)
    assert angle(new, "bust") - angle(old, "bust") > 0.7 * by / (away + by)
    assert after.piece("back") is before.piece("back")


@given(drafts(), st.floats(2, 13), st.floats(0.3, 0.45))
@settings(max_examples=30, deadline=None)
def test_an_armhole_without_a_sleeve_is_closed_into_the_side_dart(
    draft: Draft, by: float, share: float
) -> None:
    before = at_side(draft)
    place = {**ARMHOLE, "at": Position("underarm", share=share)}
    old, new = (each.piece("front") for each in (before, contoured(before, by, **place)))
    assert length(new.edge("armhole")) == pytest.approx(length(old.edge("armhole")) - by, abs=4e-3)
    for name in ("neck", "shoulder", "side", "hem", "centre"):
        assert length(new.edge(name)) == pytest.approx(length(old.edge(name)), abs=1e-6), name
    # The line bends one way only, as it did.
    assert len(turns(closed_points(new.edge("armhole")))) <= len(
        turns(closed_points(old.edge("armhole")))
    )


def test_it_takes_in_what_the_wedge_spans_where_it_lies_square() -> None:
    """By hand: 6 mm on the circle of their distance about the bust point."""
    front = block().piece("front")
    neck, bust = front.edge("neck"), front.mouth("bust").dart.apex
    shares = np.linspace(0.1, 0.9, 200)
    aslant = []
    for share in shares:
        place, way = neck.place_at(share * neck.length)
        aslant.append(abs(np.cos(np.angle((place - bust) / way))))
    share = float(shares[int(np.argmin(aslant))])
    place = neck.point_at(share * neck.length)
    after = contoured(block(), 6.0, at=Position("neck-centre", share=share)).piece("front")
    opened = angle(after, "bust") - angle(front, "bust")
    # Rounded off, a hollow line is a little shorter than its two papers, and so turns less.
    assert opened * abs(place - bust) == pytest.approx(6.0, rel=0.16)


def test_a_back_neck_is_closed_into_the_shoulder_dart() -> None:
    after = contoured(
        block(), 5.0, dart="back.shoulder", edge="back.neck", at=Position("neck-centre", share=0.5)
    )
    old, new = block().piece("back"), after.piece("back")
    assert length(new.edge("neck")) == pytest.approx(length(old.edge("neck")) - 5.0, abs=4e-3)
    assert length(new.edge("shoulder")) == pytest.approx(length(old.edge("shoulder")), abs=1e-6)
    assert not [each for each in check(after) if each.piece == "back"]


def test_it_is_refused_where_no_wedge_lies() -> None:
    with refusing(CannotChange, match="lies on the fold"):
        contoured(block(), 6.0, edge="front.centre", at=Position("neck-centre", share=0.3))
    with refusing(CannotChange, match="too much aslant"):
        contoured(low_neck(block(), 90), 6.0, at=Position("neck-point", share=0.3))
    with refusing(CannotChange, match="a dart on it; its amount can go as far as"):
        contoured(block(), 13.0, **ARMHOLE, at=Position("underarm", share=0.4))
    with refusing(CannotChange, match="line would cross the dart front.waist-side"):
        backed = kind_named("move-apex")(dart="front.waist-side", by=-50.0).apply(block())
        contoured(backed, 6.0, edge="front.side", at=Position("underarm", share=0.3))
    with refusing(CannotChange, match="the wedge would leave the cloth"):
        contoured(at_side(block()), 6.0, dart="front.waist-side", edge="front.shoulder",
                  at=Position("shoulder-point", share=0.1))  # fmt: skip
    with pytest.raises(NoSuchName):
        contoured(block(), 6.0, edge="back.neck", at=Position("neck-centre", share=0.3))


def test_it_is_told_as_a_maker_would_say_it() -> None:
    told = kind_named("contour-edge")(**NECK, at=Position("neck-centre", share=0.3), by=6.0)
    assert told.in_words(Unit.CENTIMETRE) == (
        "close a gape of 0.6 cm on front.neck (30% of the way from the neck centre) into the "
        "dart front.bust"
    )
