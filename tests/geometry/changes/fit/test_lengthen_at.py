import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled, turns
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit

AMOUNTS = st.floats(-25, 50).filter(lambda by: abs(by) > 0.5)


def at(draft: Draft, by: float, level: str = "waist", **values: object) -> Draft:
    return kind_named("lengthen-at")(by=by, level=level, **values).apply(draft)


def longer(draft: Draft) -> Draft:
    return kind_named("lengthen")(by=250.0).apply(draft)


def side_dart(draft: Draft, share: float) -> Draft:
    return kind_named("rotate-dart")(
        dart="front.bust", edge="front.side", at=Position("underarm", share=share)
    ).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def width(piece: Piece, y: float) -> float:
    """Return how wide the paper is on a level, darts not cut out."""
    points = np.concatenate([sampled(part) for edge in piece.edges for part in edge.parts])
    paper = shapely.Polygon(np.column_stack([points.real, points.imag]))
    return float(paper.intersection(shapely.LineString([(-1000, y), (2000, y)])).length)


@given(drafts(), AMOUNTS, st.floats(-80, -60))
@settings(max_examples=40, deadline=None)
def test_front_and_back_become_longer_alike_between_bust_and_waist(
    draft: Draft, by: float, below: float
) -> None:
    after = at(draft, by, below=below)
    assert_sound(after)
    for name in ("front", "back"):
        old, new = draft.piece(name), after.piece(name)
        for edge in ("neck", "shoulder", "armhole"):
            assert new.edge(edge) == old.edge(edge)
        for edge in ("side", "centre"):
            grown = length(new.edge(edge)) - length(old.edge(edge))
            assert grown == pytest.approx(by, abs=0.1)
        assert length(new.edge("hem")) == pytest.approx(length(old.edge("hem")), abs=1e-6)
        for corner in ("hem-side", "hem-centre"):
            assert new.corner(corner) - old.corner(corner) == pytest.approx(1j * by, abs=1e-6)
        for dart in ("waist", "waist-side"):
            mouth, was = new.mouth(dart), old.mouth(dart)
            assert mouth.intake == pytest.approx(was.intake, abs=1e-6)
            assert abs(mouth.dart.apex - was.dart.apex) < 0.5
    assert not check(after)


@given(drafts(), AMOUNTS, st.floats(-40, 90))
@settings(max_examples=30, deadline=None)
def test_a_longer_bodice_is_slashed_through_its_waist_darts(
    draft: Draft, by: float, below: float
) -> None:
    before = longer(draft)
    after = at(before, by, below=below)
    assert_sound(after)
    slash = before.piece("back").level("waist").y + below
    for name in ("front", "back"):
        old, new = before.piece(name), after.piece(name)
        darts = [{d.name: d for d in piece.inner_darts} for piece in (old, new)]
        for dart in darts[0]:
            assert darts[1][dart].intake == pytest.approx(darts[0][dart].intake)
            assert darts[1][dart].upper == darts[0][dart].upper
            grown = darts[1][dart].lower - darts[0][dart].lower
            assert grown == pytest.approx(1j * by, abs=1e-6)
        step = new.level("hip").y - old.level("hip").y
        assert step == pytest.approx(by, abs=1e-6)
        # Beyond what is drawn fair every line lies where its paper lies.
        for y in (slash - 60.0, slash + max(-by, 0.0) + 60.0):
            there = y + (by if y > slash else 0.0)
            assert width(new, there) == pytest.approx(width(old, y), abs=0.1)
        assert len(turns(closed_points(new.edge("side")))) <= 3
    assert not [each for each in check(after) if each.code == "seam"]


@pytest.mark.parametrize("by", [-30.0, 25.0])
def test_a_sleeve_is_slashed_at_the_elbow(by: float) -> None:
    after = at(block(), by, "elbow", piece="sleeve")
    old, new = block().piece("sleeve"), after.piece("sleeve")
    assert new.edge("cap") == old.edge("cap")
    for seam in ("front-seam", "back-seam"):
        assert length(new.edge(seam)) == pytest.approx(length(old.edge(seam)) + by, abs=1e-6)
    assert new.level("elbow").y == old.level("elbow").y
    assert not check(after)


def test_a_skirt_is_slashed_below_its_hip_as_it_was_done_in_1921() -> None:
    """6 in below the hip, and up to 4 in there (Butterick, The New Dressmaker, 1921, p. 27)."""
    body = {"waist": 720.0, "hip": 960.0, "hip-depth": 206.0, "skirt-length": 600.0}
    before = draft_block("straight-skirt", body)
    after = at(before, 4 * 25.4, "hip", below=6 * 25.4)
    for name in ("skirt-front", "skirt-back"):
        old, new = before.piece(name), after.piece(name)
        assert new.edge("waist") == old.edge("waist")
        assert length(new.edge("side")) == pytest.approx(length(old.edge("side")) + 101.6, abs=0.1)
    assert not check(after)


def test_a_notch_stays_on_its_own_side_of_the_slash() -> None:
    marked = block()
    for name, share in (("high", 0.2), ("low", 0.9)):
        marked = kind_named("mark-notch")(
            edge="back.side", at=Position("underarm", share=share), name=name
        ).apply(marked)
    after = at(marked, 30.0, below=-60.0).piece("back")
    side = after.edge("side")
    along = {n.name: n.at.along(side) for n in after.notches if n.edge == "side"}
    old = marked.edge("back", "side").length
    assert along["high"] == pytest.approx(0.2 * old, abs=1e-6)
    assert side.length - along["low"] == pytest.approx(0.1 * old, abs=1e-6)


def test_a_slash_above_the_underarm_leaves_the_sleeve_too_small() -> None:
    after = at(side_dart(block(), 0.3), 10.0, "chest", below=20.0)
    assert {each.code for each in check(after)} == {"seam"}


def test_it_is_refused_with_what_would_be_possible() -> None:
    with refusing(CannotChange, match="the slash does not run across the front"):
        at(block(), 20.0, below=300.0)
    with refusing(CannotChange, match="cross the dart bust athwart"):
        dart = side_dart(block(), 0.3).mouth("front.bust")
        level = (dart.first.imag + dart.second.imag) / 2 - 380.0
        at(side_dart(block(), 0.3), 20.0, below=level, piece="front")
    with refusing(CannotChange, match="run along the cap, or cross it twice"):
        at(block(), 20.0, "biceps", below=-60.0, piece="sleeve")
    with refusing(CannotChange, match=r"its amount can go as far as -\d"):
        at(block(), -150.0, below=-100.0)
    with pytest.raises(NoSuchName):
        at(block(), 20.0, "knee")


def test_it_is_told_as_a_maker_would_say_it() -> None:
    told = kind_named("lengthen-at")(by=20.0, level="waist", below=-60.0)
    assert told.in_words(Unit.CENTIMETRE) == "lengthen front and back 6 cm above the waist by 2 cm"
    told = kind_named("lengthen-at")(by=-20.0, level="elbow", piece="sleeve")
    assert told.in_words(Unit.CENTIMETRE) == "shorten the sleeve at the elbow by 2 cm"
