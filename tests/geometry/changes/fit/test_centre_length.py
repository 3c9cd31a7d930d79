"""sway-back and full-abdomen: the one centre shorter, the other longer, the sides as they were."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, headings, sampled
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit


def swayed(draft: Draft, by: float) -> Draft:
    return kind_named("sway-back")(by=by).apply(draft)


def fuller(draft: Draft, by: float, **values: Any) -> Draft:
    return kind_named("full-abdomen")(by=by, **values).apply(draft)


def longer(draft: Draft) -> Draft:
    return kind_named("lengthen")(by=250.0).apply(draft)


def skirt(waist: float = 720.0, hip: float = 960.0) -> Draft:
    body = {"waist": waist, "hip": hip, "hip-depth": 206.0, "skirt-length": 600.0}
    return draft_block("straight-skirt", body)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def unchanged(old: Piece, new: Piece, *names: str) -> None:
    for name in names:
        assert new.edge(name) == old.edge(name), name


def square_at_centre(line: Edge, *, first: bool) -> None:
    turns = headings(closed_points(line), 1.0)
    slant = float(turns[0] if first else turns[-1]) % 180.0
    assert min(slant, 180.0 - slant) < 3.0


@given(drafts(), st.floats(-13, 19).filter(lambda by: abs(by) > 0.5))
@settings(max_examples=30, deadline=None)
def test_a_sway_back_is_shorter_at_the_centre_only(draft: Draft, by: float) -> None:
    after = swayed(draft, by)
    assert_sound(after)
    old, new = draft.piece("back"), after.piece("back")
    assert length(new.edge("centre")) == pytest.approx(length(old.edge("centre")) - by, abs=1e-4)
    assert length(new.edge("hem")) == pytest.approx(length(old.edge("hem")), abs=0.3)
    unchanged(old, new, "neck", "shoulder", "armhole", "side")
    assert not check(after)
    assert after.piece("front") is draft.piece("front")


@given(drafts(), st.floats(2, 19))
@settings(max_examples=20, deadline=None)
def test_below_the_waist_of_a_longer_back_all_goes_up(draft: Draft, by: float) -> None:
    before = longer(draft)
    after = swayed(before, by)
    old, new = before.piece("back"), after.piece("back")
    unchanged(old, new, "neck", "shoulder", "armhole", "side")
    step = new.corner("hem-centre") - old.corner("hem-centre")
    assert abs(step) == pytest.approx(by, abs=1e-6)
    square_at_centre(new.edge("hem"), first=False)
    darts = [{d.name: d for d in piece.inner_darts} for piece in (old, new)]
    moves = {}
    for name, dart in darts[0].items():
        assert (darts[1][name].upper, darts[1][name].left) == (dart.upper, dart.left)
        moves[name] = (dart.lower - darts[1][name].lower).imag
        assert 0 < moves[name] < by
    assert moves["waist"] > moves["waist-side"]  # it lies nearer to the centre


@pytest.mark.parametrize("by", [-10.0, 6.0, 19.0])
def test_the_waist_of_a_skirt_is_lowered_behind(by: float) -> None:
    after = swayed(skirt(), by)
    old, new = skirt().piece("skirt-back"), after.piece("skirt-back")
    assert new.corner("waist-centre").imag == pytest.approx(old.corner("waist-centre").imag + by)
    assert length(new.edge("waist")) == pytest.approx(length(old.edge("waist")), abs=0.3)
    unchanged(old, new, "side", "hem")
    assert new.corner("waist-side") == old.corner("waist-side")
    assert not check(after)


@given(st.integers(640, 800), st.floats(2, 25), st.floats(0, 8))
@settings(max_examples=20, deadline=None)
def test_a_skirt_rises_over_the_abdomen_and_its_dart_takes_in_less(
    waist: int, by: float, less: float
) -> None:
    before = skirt(float(waist), waist + 240.0)
    values: dict[str, Any] = {"dart": "skirt-front.waist", "less": less} if less else {}
    after = fuller(before, by, **values)
    assert_sound(after)
    old, new = before.piece("skirt-front"), after.piece("skirt-front")
    assert length(new.edge("centre")) == pytest.approx(length(old.edge("centre")) + by, abs=1e-4)
    assert length(new.edge("waist")) == pytest.approx(length(old.edge("waist")) + less, abs=0.3)
    unchanged(old, new, "side", "hem")
    square_at_centre(new.edge("waist"), first=True)
    assert after.piece("skirt-back") is before.piece("skirt-back")


def test_a_long_bodice_drops_over_the_abdomen() -> None:
    before = longer(block())
    after = fuller(before, 15.0, dart="front.waist", less=6.0)
    old, new = before.piece("front"), after.piece("front")
    drop = new.corner("hem-centre") - old.corner("hem-centre")
    assert drop == pytest.approx(15j, abs=1e-9)
    unchanged(old, new, "neck", "shoulder", "armhole", "side")
    assert new.width_at(380.0) == pytest.approx(old.width_at(380.0) + 6.0, abs=1e-6)
    assert new.level("hip").y == pytest.approx(old.level("hip").y + 7.5)


def test_a_dart_and_what_it_takes_in_less_go_together() -> None:
    with pytest.raises(BadParameter):
        kind_named("full-abdomen")(by=10.0, less=5.0)
    with pytest.raises(BadParameter):
        kind_named("full-abdomen")(by=10.0, dart="front.waist")
    with pytest.raises(NoSuchName):
        fuller(skirt(), 10.0, dart="skirt-back.waist", less=5.0)
    with refusing(CannotChange, match="nothing would be left of the dart waist"):
        fuller(skirt(), 10.0, dart="skirt-front.waist", less=25.0)


def test_they_are_refused_where_there_is_no_such_half_or_too_little_of_it() -> None:
    with pytest.raises(NoSuchName):
        swayed(skirt().only(["skirt-front"]), 10.0)
    front = skirt().piece("skirt-front")
    renamed = tuple(
        replace(edge, name="edge") if edge.name == "centre" else edge for edge in front.edges
    )
    with refusing(CannotChange, match="centre does not meet waist"):
        fuller(skirt().with_pieces(replace(front, edges=renamed, fold=None)), 10.0)


def test_they_are_told_as_a_maker_would_say_it() -> None:
    assert kind_named("sway-back")(by=12.0).in_words(Unit.CENTIMETRE) == (
        "shorten the centre back at the waist by 1.2 cm"
    )
    told = kind_named("full-abdomen")(by=15.0, dart="skirt-front.waist", less=6.0)
    assert told.in_words(Unit.CENTIMETRE) == (
        "lengthen the centre front for the abdomen by 1.5 cm, skirt-front.waist taking in "
        "0.6 cm less"
    )
