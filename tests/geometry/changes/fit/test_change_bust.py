from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit

SLASHES = st.one_of(
    st.just({}),
    st.floats(0.25, 0.6).map(lambda share: {"at": Position("underarm", share=share)}),
    st.floats(0.3, 0.7).map(
        lambda share: {"edge": "front.shoulder", "at": Position("neck-point", share=share)}
    ),
)
PLACES = st.sampled_from(
    [
        None,
        ("front.side", Position("underarm", share=0.3)),
        ("front.shoulder", Position("neck-point", share=0.5)),
        ("front.neck", Position("neck-centre", share=0.4)),
    ]
)
ABOVE = Position("underarm", share=0.33)
AMOUNTS = st.floats(-8, 20).filter(lambda by: abs(by) > 0.5)


def changed(draft: Draft, by: float, **values: object) -> Draft:
    return kind_named("change-bust")(dart="front.bust", by=by, **values).apply(draft)


def turned(draft: Draft, edge: str, at: Position) -> Draft:
    return kind_named("rotate-dart")(dart="front.bust", edge=edge, at=at).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def angle(piece: Piece, dart: str) -> float:
    mouth = piece.mouth(dart)
    return float(abs(np.angle((mouth.first - mouth.dart.apex) / (mouth.second - mouth.dart.apex))))


def width_below(piece: Piece, y: float) -> float:
    """Return the straight width of the paper on a level, darts left open."""
    points = np.concatenate([sampled(part) for edge in piece.edges for part in edge.parts])
    paper = shapely.Polygon(np.column_stack([points.real, points.imag]))
    across = shapely.LineString([(-1000, y), (2000, y)])
    return float(paper.intersection(across).length)


@given(drafts(), AMOUNTS, SLASHES, PLACES)
@settings(max_examples=60, deadline=None)
def test_the_seams_keep_their_length_and_the_front_gains_what_is_asked(
    draft: Draft, by: float, slash: dict[str, object], place: tuple[str, Position] | None
) -> None:
    before = turned(draft, *place) if place else draft
    try:
        after = changed(before, by, **slash)
    except CannotChange as refused:
        assume("line-near-end" not in str(refused))  # the slash ends just where the dart opens
        raise
    assert_sound(after)
    old, new = before.piece("front"), after.piece("front")
    slashed = str(slash.get("edge", "front.armhole")).partition(".")[2]
    for name in ("neck", "shoulder", "armhole", "side"):
        close = 0.5 if name == slashed else 1e-4
        assert length(new.edge(name)) == pytest.approx(length(old.edge(name)), abs=close), name
    # The hem of the block bends a little, and is as long as it is wide only to a tenth.
    assert length(new.edge("hem")) == pytest.approx(length(old.edge("hem")) + by, abs=0.15)
    down = new.corner("hem-side") - old.corner("hem-side")
    out = 1 if old.corner("hem-side").real > old.corner("hem-centre").real else -1
    assert down.real * out == pytest.approx(by, abs=1e-6)
    at_centre = new.corner("hem-centre") - old.corner("hem-centre")
    assert at_centre == pytest.approx(1j * down.imag, abs=1e-6)
    grown = length(new.edge("centre")) - length(old.edge("centre"))
    assert grown == pytest.approx(down.imag, abs=1e-4)
    assert (angle(new, "bust") > angle(old, "bust")) == (by > 0)
    assert after.piece("back") is before.piece("back")


@given(drafts(), st.floats(2, 20))
@settings(max_examples=30, deadline=None)
def test_the_paper_under_the_arm_swings_about_its_place_on_the_armhole(
    draft: Draft, by: float
) -> None:
    """By hand: the bust point swings on a circle about that place until it is `by` farther out."""
    old = draft.piece("front")
    place = old.edge("armhole").point_at(0.67 * old.edge("armhole").length)
    mouth = old.mouth("bust")
    bust = mouth.dart.apex
    # The place lies beyond the dart: as sewn, it is turned with the dart about the bust point.
    turn = (mouth.first - bust) / (mouth.second - bust)
    arm = bust - (bust + (place - bust) * turn)
    across = arm.real - by
    swung = complex(across, np.sqrt(abs(arm) ** 2 - across**2))
    new = changed(draft, by).piece("front")
    opened = abs(np.angle(swung / arm))
    assert angle(new, "bust") == pytest.approx(angle(old, "bust") + opened, abs=1e-6)
    assert new.mouth("bust").dart.apex == pytest.approx(bust + swung - arm, abs=1e-6)


@given(drafts(), AMOUNTS, SLASHES)
@settings(max_examples=30, deadline=None)
def test_it_comes_out_the_same_wherever_the_dart_opens(
    draft: Draft, by: float, slash: dict[str, Any]
) -> None:
    place = ("front.side", Position("underarm", share=0.3))
    armhole = draft.edge("front", "armhole")
    ends = 0.0 if "edge" in slash else slash.get("at", ABOVE).along(armhole)
    assume(abs(armhole.parts[0].length - ends) > 1.1)  # not in the dart's mouth
    one = changed(turned(draft, *place), by, **slash)
    other = turned(changed(draft, by, **slash), *place)
    # Fairing moves the mouth of a dart a little where it opens on the line that is drawn fair.
    assert largest_shift(one.piece("front"), other.piece("front")) < 0.05


@given(drafts(), AMOUNTS)
@settings(max_examples=20, deadline=None)
def test_a_waist_dart_takes_in_what_the_waist_gains(draft: Draft, by: float) -> None:
    after = changed(draft, by, into="front.waist")
    old, new = draft.piece("front"), after.piece("front")
    assert length(new.edge("hem")) == pytest.approx(length(old.edge("hem")), abs=0.25)
    gained = new.mouth("waist").intake - old.mouth("waist").intake
    assert gained == pytest.approx(by, abs=1e-6)
    assert not [each for each in check(after) if each.piece == "front"]


def test_a_double_pointed_dart_takes_it_in_and_the_hem_hangs_level() -> None:
    longer = kind_named("lengthen")(by=200.0).apply(block())
    after = changed(longer, 12.0, into="front.waist")
    old, new = longer.piece("front"), after.piece("front")
    intakes = [{d.name: d.intake for d in each.inner_darts} for each in (old, new)]
    assert intakes[1]["waist"] == pytest.approx(intakes[0]["waist"] + 12.0)
    assert intakes[1]["waist-side"] == pytest.approx(intakes[0]["waist-side"])
    low = old.corner("hem-centre").imag - 10
    assert width_below(new, low) == pytest.approx(width_below(old, low) + 12.0, abs=0.01)
    assert new.corner("hem-side").imag == pytest.approx(new.corner("hem-centre").imag)
    drop = new.corner("hem-side").imag - old.corner("hem-side").imag
    assert new.level("waist").y == pytest.approx(old.level("waist").y + drop)
    assert new.level("chest").y == old.level("chest").y


@given(drafts(), st.floats(3, 20))
@settings(max_examples=20, deadline=None)
def test_what_is_let_in_and_taken_out_again_leaves_nearly_nothing(draft: Draft, by: float) -> None:
    again = changed(changed(draft, by), -by)
    old, new = draft.piece("front"), again.piece("front")
    # The armhole was drawn fair twice, and the slash ends a little elsewhere the second time.
    assert angle(new, "bust") == pytest.approx(angle(old, "bust"), abs=0.02)
    assert length(new.edge("centre")) == pytest.approx(length(old.edge("centre")), abs=1.5)
    assert length(new.edge("hem")) == pytest.approx(length(old.edge("hem")), abs=0.2)


def test_the_armhole_is_fair_where_it_was_turned() -> None:
    after = changed(block(), 20.0).piece("front")
    points = closed_points(after.edge("armhole"))
    headings = np.unwrap(np.angle(np.diff(points)[np.abs(np.diff(points)) > 1e-9]))
    assert np.degrees(np.abs(np.diff(headings))).max() < 4.0


def test_a_notch_of_the_hem_stays_on_its_own_paper() -> None:
    front = (
        block()
        .piece("front")
        .with_notches(
            Notch("outer", "hem", Position("hem-side", share=0.2)),
            Notch("inner", "hem", Position("hem-side", share=0.9)),
        )
    )
    marked = block().with_pieces(front)
    after = changed(marked, 10.0).piece("front")
    at = {n.name: n.at.along(after.edge("hem")) for n in after.notches if n.edge == "hem"}
    hem = front.edge("hem").length
    assert at["outer"] == pytest.approx(0.2 * hem, abs=1e-6)
    assert after.edge("hem").length - at["inner"] == pytest.approx(0.1 * hem, abs=1e-6)


def test_it_is_refused_with_what_would_be_possible() -> None:
    with refusing(CannotChange, match=r"dart bust.*can go as far as -\d") as refused:
        changed(block(), -25.0)
    assert changed(block(), refused.value.largest or 0.0)
    with refusing(CannotChange, match="nothing would be left of the dart waist"):
        changed(block(), -18.0, into="front.waist", edge="front.shoulder",
                at=Position("neck-point", share=0.5))  # fmt: skip
    with refusing(CannotChange, match="would not run upwards"):
        changed(block(), 10.0, edge="front.side", at=Position("underarm", share=0.2))
    front = block().piece("front")
    bust = front.mouth("bust").dart
    beside = front.with_dart(replace(bust, apex=bust.apex - 200))
    with refusing(CannotChange, match="aims at there is no hem"):
        changed(block().with_pieces(beside), 10.0)
    with pytest.raises(NoSuchName):
        changed(block(), 10.0, into="front.bust")
    with pytest.raises(NoSuchName):
        changed(block(), 10.0, into="back.waist")
    with pytest.raises(NoSuchName):
        changed(block(), 10.0, edge="back.armhole")


def test_it_is_told_as_a_maker_would_say_it() -> None:
    told = kind_named("change-bust")(dart="front.bust", by=13.0, into="front.waist")
    assert told.in_words(Unit.CENTIMETRE) == (
        "widen the front at the bust by 1.3 cm with front.bust, slashed to the armhole, "
        "taken in by front.waist at the waist"
    )
    told = kind_named("change-bust")(dart="front.bust", by=-6.0, side="left")
    assert told.in_words(Unit.MILLIMETRE).startswith("narrow the front at the bust by 6 mm")
