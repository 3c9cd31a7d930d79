import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, headings, sampled
from tests.refusals import refusing
from tests.sound import assert_sound, outcome
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit

THROAT = {
    "edge": "front.neck", "at": Position("neck-centre", share=0.4), "deep": 60.0, "name": "throat",
}  # fmt: skip
WAIST = {
    "edge": "front.hem", "at": Position("hem-centre", distance=95.0), "deep": 110.0,
    "name": "pleat",
}  # fmt: skip


def added(draft: Draft, by: float, **values: object) -> Draft:
    return kind_named("add-dart")(**{**THROAT, "by": by, **values}).apply(draft)


def double(draft: Draft, by: float = 15.0, **values: object) -> Draft:
    shape = {"piece": "front", "away": 130.0, "above": 100.0, "below": 110.0, "name": "mid"}
    return kind_named("add-double-dart")(**{**shape, "by": by, **values}).apply(draft)


def without_waist_dart(draft: Draft) -> Draft:
    return kind_named("release-dart")(dart="front.waist").apply(draft)


def lengthened(draft: Draft) -> Draft:
    return kind_named("lengthen")(by=250.0).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


@given(drafts(), st.floats(2, 14), st.floats(0.3, 0.6), st.floats(30, 80), st.floats(-10, 10))
@settings(max_examples=50, deadline=None)
def test_a_dart_of_its_size_opens_where_it_is_asked(
    draft: Draft, by: float, share: float, deep: float, aside: float
) -> None:
    at = Position("neck-centre", share=share)
    after = outcome(lambda: added(draft, by, at=at, deep=deep, aside=aside))
    if after is None:
        return
    old, new = draft.edge("front", "neck"), after.edge("front", "neck")
    mouth = after.mouth("front.throat")
    assert mouth.intake == pytest.approx(by, abs=1e-6)
    # Square to the edge it takes as much off it as it is wide; aslant a little less.
    assert length(new) == pytest.approx(length(old) - by, abs=0.06 * by + 0.1)
    place, way = old.place_at(share * old.length)
    step = mouth.dart.apex - place
    assert abs(step) == pytest.approx(np.hypot(deep, aside), abs=1e-6)
    assert float((step * way.conjugate()).real) == pytest.approx(aside, abs=1e-6)
    assert abs((mouth.first + mouth.second) / 2 - place) < 3.0
    for edge in draft.piece("front").edges:
        if edge.name != "neck":
            assert after.edge("front", edge.name) == edge
    turned = np.abs(np.diff(headings(closed_points(new), 2.0)))
    assert turned.max() < 12.0


@given(drafts(), st.floats(5, 20))
@settings(max_examples=30, deadline=None)
def test_let_out_at_the_side_the_waist_keeps_its_length(draft: Draft, by: float) -> None:
    before = without_waist_dart(draft)
    after = added(before, by, **WAIST, let_out="front.side")
    assert_sound(after)
    old, new = before.piece("front"), after.piece("front")
    assert length(new.edge("hem")) == pytest.approx(length(old.edge("hem")), abs=0.3)
    moved = new.corner("hem-side") - old.corner("hem-side")
    assert abs(moved) == pytest.approx(by, abs=1e-6)
    assert new.corner("underarm") == old.corner("underarm")
    place = old.edge("hem").point_at(old.edge("hem").length - 95.0)
    mouth = new.mouth("pleat")
    assert abs(((mouth.first + mouth.second) / 2 - place).real) < 3.0
    assert not [each for each in check(after) if each.code not in ("seam",)]


def test_a_shoulder_dart_is_let_out_at_the_armhole() -> None:
    at = Position("neck-point", distance=60.0)
    before = kind_named("release-dart")(dart="back.shoulder").apply(block())
    after = added(
        before, 10.0, edge="back.shoulder", at=at, deep=70.0, name="blade", let_out="back.armhole"
    )
    old, new = before.edge("back", "shoulder"), after.edge("back", "shoulder")
    assert length(new) == pytest.approx(length(old), abs=0.2)
    assert new.start == old.start
    assert after.piece("back").corner("underarm") == before.piece("back").corner("underarm")


@given(drafts(), st.floats(5, 20), st.floats(40, 90), st.floats(40, 120))
@settings(max_examples=30, deadline=None)
def test_a_double_pointed_dart_narrows_its_level_only(
    draft: Draft, by: float, above: float, below: float
) -> None:
    before = lengthened(draft)
    after = outcome(lambda: double(before, by, away=40.0, above=above, below=below))
    if after is None:
        return
    old, new = before.piece("front"), after.piece("front")
    assert new.edges == old.edges
    (dart,) = [each for each in new.inner_darts if each.name == "mid"]
    waist = new.level("waist").y
    assert dart.intake == pytest.approx(by)
    assert dart.left.imag == dart.right.imag == pytest.approx(waist)
    middle = (dart.left + dart.right) / 2
    assert abs(middle.real - old.corner("hem-centre").real) == pytest.approx(40.0, abs=1e-6)
    assert waist - dart.upper.imag == pytest.approx(above)
    assert dart.lower.imag - waist == pytest.approx(below)
    assert new.width_at(waist) == pytest.approx(old.width_at(waist) - by, abs=1e-3)


def test_a_dart_that_finds_no_room_is_refused_with_what_would_be_possible() -> None:
    with refusing(CannotChange, match=r"radius .* can go as far as \d+") as refused:
        added(block(), 100.0, edge="front.armhole", at=Position("underarm", share=0.7))
    assert refused.value.largest
    with refusing(CannotChange, match="no dart can open; choose another edge"):
        added(block(), 10.0, edge="front.centre")
    with refusing(CannotChange, match="the name bust is taken; choose another name"):
        added(block(), 10.0, name="bust")
    with refusing(CannotChange, match="front.hem does not meet front.neck; choose another edge"):
        added(block(), 10.0, let_out="front.hem")
    with refusing(CannotChange, match="does not meet"):
        added(block(), 10.0, let_out="front.centre")  # on the fold
    with pytest.raises(NoSuchName):
        added(block(), 10.0, let_out="back.side")
    with pytest.raises(BadParameter):
        added(block(), 10.0, name="A dart")


def test_a_double_pointed_dart_that_finds_no_room_is_refused() -> None:
    with refusing(CannotChange, match="the front ends at the waist; open one on that edge"):
        double(block())
    with refusing(CannotChange, match="would run over another line"):
        double(lengthened(block()), away=100.0)
    with refusing(CannotChange, match="the name waist is taken; choose another name"):
        double(lengthened(block()), name="waist")
    with refusing(CannotChange, match="its centre does not pass the chest"):
        # A neck that was cut down below the chest leaves no centre there.
        low = kind_named("lower-neck")(piece="front", by=100.0)
        double(low.apply(lengthened(block())), level="chest")
    with pytest.raises(NoSuchName):
        double(lengthened(block()), level="knee")
    with pytest.raises(BadParameter):
        double(lengthened(block()), name="A dart")


def test_they_are_told_as_a_maker_would_say_it() -> None:
    told = kind_named("add-dart")(**WAIST, by=20.0, let_out="front.side").in_words(Unit.CENTIMETRE)
    assert told == (
        "add a dart front.pleat on front.hem (9.5 cm from the hem centre), 2 cm wide and 11 cm "
        "deep, "
        "let out at front.side"
    )
    told = kind_named("add-double-dart")(
        piece="back", by=20.0, away=90.0, above=100.0, below=120.0, name="second", side="left"
    ).in_words(Unit.CENTIMETRE)
    assert told == (
        "add a double-pointed dart back.second at the waist, 2 cm wide and 9 cm from the centre "
        "on the left"
    )
