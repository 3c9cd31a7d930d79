from contextlib import suppress
from itertools import groupby

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import across_the_sleeve_seam, corner_degrees, sharpest_bend
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measure, measures
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft


def widen(draft: Draft, by: float, hem: float = 0.0, gathers: float = 0.0) -> Draft:
    return kind_named("widen-sleeve")(by=by, hem=hem, gathers=gathers).apply(draft)


@given(drafts(), st.floats(-60, 160).filter(bool), st.floats(-80, 250))
@settings(max_examples=60)
def test_both_sides_move_out_equally_and_the_crown_keeps_its_height(
    draft: Draft, by: float, hem: float
) -> None:
    after = widen(draft, by, hem)
    old, new = draft.piece("sleeve"), after.piece("sleeve")
    for corner, step in (
        ("front-underarm", by / 2),
        ("back-underarm", -by / 2),
        ("hem-front", hem / 2),
        ("hem-back", -hem / 2),
    ):
        assert abs(new.corner(corner) - old.corner(corner) - step) < 2e-5
    assert measure(after, "sleeve.biceps-width") == pytest.approx(
        measure(draft, "sleeve.biceps-width") + by, abs=1e-4
    )
    assert measure(after, "sleeve.cap-height") == pytest.approx(
        measure(draft, "sleeve.cap-height"), abs=1e-6
    )
    assert measure(after, "sleeve-seam.ease") == pytest.approx(0, abs=1e-6)
    assert new.is_simple
    assert max(sharpest_bend(new, edge) for edge in new.edge_names) < 0.01
    for corner in ("hem-back", "hem-front"):
        assert corner_degrees(new, corner) == pytest.approx(corner_degrees(old, corner), abs=1e-4)


@given(drafts(), st.floats(-60, 160).filter(bool))
@settings(max_examples=30)
def test_the_hem_stays_the_same_edge_unless_it_is_widened_too(draft: Draft, by: float) -> None:
    assert widen(draft, by).edge("sleeve", "hem") is draft.edge("sleeve", "hem")


def test_a_hem_widened_as_much_as_the_biceps_moves_the_seams_out_alike() -> None:
    before, after = measures(block()), measures(widen(block(), 60, 60))
    assert after["sleeve.hem"] - before["sleeve.hem"] == pytest.approx(60, abs=1e-6)
    assert after["sleeve.elbow-width"] - before["sleeve.elbow-width"] == pytest.approx(60)
    assert after["sleeve.back-seam"] == pytest.approx(before["sleeve.back-seam"])


def test_a_bell_keeps_its_cap_but_for_its_ends_which_are_smoothed() -> None:
    old, after = block(), widen(block(), 0, 120)
    first = kind_named("widen-sleeve", 1)(by=0.0, hem=120.0).apply(old)
    drafted = old.edge("sleeve", "cap")
    assert first.edge("sleeve", "cap").length == pytest.approx(drafted.length)
    before, now = (edge.parts[0] for edge in (drafted, after.edge("sleeve", "cap")))
    ends = before.cubics[0].length, before.length - before.cubics[-1].length
    for share in range(101):
        at = before.length * share / 100
        point = before.point_at(at)
        off = abs(now.point_at(now.nearest(point)) - point)
        assert off < (1e-6 if ends[0] <= at <= ends[1] else 2.0)
    assert after.edge("sleeve", "hem").length > old.edge("sleeve", "hem").length + 119
    assert check(after) == ()


@given(drafts(), st.floats(5, 150))
@settings(max_examples=20)
def test_a_wider_sleeve_has_a_longer_cap(draft: Draft, by: float) -> None:
    before, after = measures(draft), measures(widen(draft, by))
    assert after["sleeve.cap-ease"] - before["sleeve.cap-ease"] == pytest.approx(
        after["sleeve.cap"] - before["sleeve.cap"], abs=1e-6
    )
    assert after["sleeve.cap"] > before["sleeve.cap"]


def test_gathers_let_the_armhole_seam_take_more_ease() -> None:
    seam = widen(block(), 60, gathers=50).seam("armhole-seam")
    assert seam.allowed.high == block().seam("armhole-seam").allowed.high + 50
    assert check(widen(block(), 60, gathers=50)) == ()


def test_a_sleeve_too_narrow_for_an_arm_is_refused() -> None:
    for by, hem, edge in ((-200, 0, "cap"), (10, -300, "hem")):
        with refusing(CannotChange, match=rf"sleeve\.{edge}.*can lose at most"):
            widen(block(), by, hem)


def test_widening_nothing_is_refused() -> None:
    with pytest.raises(BadParameter):
        widen(block(), 0)


@given(drafts(), st.floats(-3000, 3000).filter(bool), st.floats(-3000, 3000))
@settings(max_examples=40)
def test_no_amount_gives_a_broken_sleeve(draft: Draft, by: float, hem: float) -> None:
    try:
        after = widen(draft, by, hem)
    except GeometryError:
        return
    assert after.piece("sleeve").is_simple


def test_it_needs_a_sleeve() -> None:
    with pytest.raises(NoSuchName):
        widen(block().only(["front", "back"]), 5)


def test_it_means_the_widths_it_was_given() -> None:
    kind = kind_named("widen-sleeve")
    assert kind(by=5).meant(block()) == ("sleeve.biceps-width",)
    assert kind(by=0, hem=5).meant(block()) == ("sleeve.hem",)
    assert set(kind(by=5, hem=5).meant(block())) <= set(measures(block()))
    assert set(kind(by=5).knock_on(block())) <= set(measures(block()))


@given(drafts(), st.floats(-40, 120), st.floats(-60, 100))
@settings(max_examples=25)
def test_the_cap_still_runs_on_across_the_sleeve_seam(draft: Draft, by: float, hem: float) -> None:
    with suppress(GeometryError):
        after = kind_named("widen-sleeve")(by=by, hem=hem).apply(draft)
        assert across_the_sleeve_seam(after) == pytest.approx(180, abs=0.01)


def test_the_seam_asks_for_what_is_gathered_but_no_more_than_there_is() -> None:
    before = block().seam("armhole-seam").allowed
    after = widen(block(), 60, gathers=40).seam("armhole-seam")
    assert after.allowed.low == pytest.approx(before.low + 40)
    little = widen(block(), 10, gathers=80)
    gained = measure(little, "sleeve.cap-ease") - measure(block(), "sleeve.cap-ease")
    assert little.seam("armhole-seam").allowed.low == pytest.approx(before.low + gained)


def test_each_half_asks_for_its_half_of_the_gathers() -> None:
    puff = widen(block(), 90, gathers=80)
    assert check(puff) == ()
    front, back = walk(puff, puff.seam("armhole-seam")).sections
    assert front.section.allowed.high == pytest.approx(18 + 40)
    assert back.section.allowed.high == pytest.approx(30 + 40)
    assert min(front.section.allowed.low - 10, back.section.allowed.low - 15) > 25


@pytest.mark.parametrize("by", [-80, -60, -25, 30, 60, 100])
@pytest.mark.parametrize("hem", [-60, 0, 60])
@pytest.mark.parametrize("bust", [800, 880, 1180])
def test_the_ends_of_the_cap_are_drawn_fair_however_the_seams_are_moved(
    bust: float, by: float, hem: float
) -> None:
    body = {800: (800, 620, 370), 880: (880, 680, 380), 1180: (1180, 1000, 430)}[bust]
    after = widen(block(*body), by, hem)
    assert [each.code for each in check(after) if each.piece == "sleeve"] in ([], ["seam"])
    # Sampled: each half of the cap is hollow once below and round once above.
    (cap,) = after.edge("sleeve", "cap").parts
    points = np.array([cap.point_at(cap.length * k / 400) for k in range(401)])
    turns = np.angle(np.diff(points)[1:] / np.diff(points)[:-1])
    bends = np.split(turns, np.flatnonzero(np.diff(np.sign(turns))) + 1)
    ways = [np.sign(bend.sum()) for bend in bends if abs(bend.sum()) > np.radians(0.5)]
    assert [way for way, _ in groupby(ways)] == [1, -1, 1]
