from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import across_the_sleeve_seam, corner_degrees, sharpest_bend
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.changes.sleeve.refit_cap import WAYS, cap_refit
from trueup.geometry.errors import BadParameter, CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measure, measures
from trueup.geometry.measuring.sections import shared_out
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft

SLEEVE_SEAMS = ("back-seam", "front-seam")


def refit(draft: Draft, to: float | None = None, how: str = "both") -> Draft:
    return kind_named("refit-cap")(to=to, how=how).apply(draft)


def hollowed(draft: Draft, by: float) -> Draft:
    return kind_named("scoop-armhole")(piece="front", by=by).apply(draft)


@given(drafts(), st.floats(0, 90), st.sampled_from(WAYS))
@settings(max_examples=60)
def test_the_cap_meets_the_wanted_ease_and_the_underarm_seams_still_match(
    draft: Draft, ease: float, how: str
) -> None:
    after = refit(draft, ease, how)
    assert measure(after, "sleeve.cap-ease") == pytest.approx(ease, abs=1e-6)
    assert measure(after, "sleeve-seam.ease") == pytest.approx(0, abs=1e-6)
    sleeve = after.piece("sleeve")
    assert sleeve.edge("hem") is draft.edge("sleeve", "hem")
    assert sleeve.is_simple
    assert sharpest_bend(sleeve, "cap") < 0.01
    for name in ("front", "back"):
        assert after.piece(name) is draft.piece(name)


@given(drafts(), st.floats(5, 80))
@settings(max_examples=30)
def test_width_leaves_the_height_and_height_leaves_the_width(draft: Draft, ease: float) -> None:
    before = measures(draft)
    wide, high = measures(refit(draft, ease, "width")), measures(refit(draft, ease, "height"))
    assert wide["sleeve.cap-height"] == pytest.approx(before["sleeve.cap-height"], abs=1e-6)
    assert high["sleeve.biceps-width"] == pytest.approx(before["sleeve.biceps-width"], abs=1e-6)
    after = refit(draft, ease, "height").piece("sleeve")
    assert all(after.edge(e) is draft.edge("sleeve", e) for e in (*SLEEVE_SEAMS, "hem"))


def test_both_scales_width_and_height_alike() -> None:
    before, after = measures(block()), measures(refit(block(), 60, "both"))
    assert after["sleeve.cap-height"] / before["sleeve.cap-height"] == pytest.approx(
        after["sleeve.biceps-width"] / before["sleeve.biceps-width"], rel=1e-9
    )


def test_the_amounts_can_be_asked_for_before_it_is_done() -> None:
    draft = hollowed(block(), 30)
    for how in WAYS:
        amounts = cap_refit(draft, 32, how)
        before, after = measures(draft), measures(refit(draft, 32, how))
        for name, amount in (("biceps-width", amounts.width), ("cap-height", amounts.height)):
            change = after[f"sleeve.{name}"] - before[f"sleeve.{name}"]
            assert change == pytest.approx(amount, abs=1e-6)
    assert cap_refit(draft, 32, "height").amount > 0
    assert cap_refit(draft, 32, "width").height == 0


def test_a_cap_too_small_for_a_hollowed_armhole_is_brought_to_the_least_it_may_have() -> None:
    draft = hollowed(block(), 30)
    assert [finding.code for finding in check(draft)] == ["seam"]
    after = refit(draft)
    front, back = walk(after, after.seam("armhole-seam")).sections
    assert front.ease == pytest.approx(front.section.allowed.low, abs=1e-6)
    assert back.ease == pytest.approx(walk(draft, draft.seam("armhole-seam")).sections[1].ease)
    assert check(after) == ()


def test_a_cap_that_fits_is_left_alone() -> None:
    found = cap_refit(block())
    assert (found.width, found.height, found.notch) == (0.0, 0.0, 0.0)
    assert found.ease == pytest.approx(measure(block(), "sleeve.cap-ease"))
    assert refit(block()) is block()


def test_the_hem_still_runs_on_across_the_sleeve_seam_after_many_refits() -> None:
    draft = block()
    for ease in (60, 20, 80, 40):
        draft = refit(draft, ease, "width")
    sleeve = draft.piece("sleeve")
    for corner in ("hem-back", "hem-front"):
        assert corner_degrees(sleeve, corner) == pytest.approx(
            corner_degrees(block().piece("sleeve"), corner), abs=1e-4
        )


def test_the_crown_notch_stays_on_the_crown() -> None:
    sleeve = refit(block(), 90, "both").piece("sleeve")
    old = block().piece("sleeve")
    for piece in (sleeve, old):
        notch = next(n for n in piece.notches if n.name == "crown")
        cap = piece.edge("cap")
        top = min(p.imag for p in cap.parts[0].flattened())
        assert cap.point_at(notch.at.along(cap)).imag == pytest.approx(top, abs=0.5)
    crown = next(n for n in sleeve.notches if n.name == "crown")
    before = next(n for n in old.notches if n.name == "crown")
    assert crown.at.along(sleeve.edge("cap")) - before.at.along(old.edge("cap")) > 10
    assert [n for n in sleeve.notches if n.name != "crown"] == [
        n for n in old.notches if n.name != "crown"
    ]


def test_an_ease_out_of_reach_is_refused_with_the_eases_that_can_be_had() -> None:
    with refusing(CannotChange, match=r"sleeve\.cap.*can bring the ease from") as error:
        refit(block(), 900, "width")
    most = error.value.largest
    assert most is not None
    assert measure(refit(block(), most - 0.1, "width"), "sleeve.cap-ease") == pytest.approx(
        most - 0.1, abs=1e-6
    )
    with pytest.raises(CannotChange):
        refit(block(), -190, "height")


@given(drafts(), st.floats(-3000, 3000), st.sampled_from(WAYS))
@settings(max_examples=40)
def test_no_ease_gives_a_broken_sleeve(draft: Draft, ease: float, how: str) -> None:
    try:
        after = refit(draft, ease, how)
    except GeometryError:
        return
    assert after.piece("sleeve").is_simple


def test_it_needs_sleeve_and_armhole_and_a_known_way() -> None:
    with pytest.raises(NoSuchName):
        refit(block().only(["front", "back"]))
    with pytest.raises(NoSuchName):
        refit(block().only(["sleeve"]))
    with refusing(BadParameter, match="width, height, both"):
        cap_refit(block(), 40, "depth")


def test_it_means_the_cap_and_its_ease() -> None:
    change = kind_named("refit-cap")()
    named = {*change.meant(block()), *change.knock_on(block())}
    assert named <= set(measures(block()))


# --- by halves ------------------------------------------------------------------------------------


@given(drafts(), st.floats(2, 20), st.floats(2, 14), st.floats(26, 44), st.sampled_from(WAYS))
@settings(max_examples=40)
def test_each_half_has_its_share_of_the_ease_over_its_half_of_the_armhole(
    draft: Draft, front: float, back: float, ease: float, how: str
) -> None:
    scoop = kind_named("scoop-armhole")
    for piece, by in (("front", front), ("back", back)):
        with suppress(GeometryError):
            draft = scoop(piece=piece, by=by).apply(draft)
    after = refit(draft, ease, how)
    walked = walk(after, after.seam("armhole-seam")).sections
    wanted = shared_out(ease, tuple(part.section for part in walked))
    assert [part.ease for part in walked] == pytest.approx(wanted, abs=1e-6)
    assert all(part.excess == pytest.approx(0, abs=1e-6) for part in walked)
    assert across_the_sleeve_seam(after) == pytest.approx(180, abs=0.01)
    assert sharpest_bend(after.piece("sleeve"), "cap") < 0.01


@given(st.floats(310, 400), st.floats(28, 42))
@settings(max_examples=20)
def test_a_given_width_is_met_and_the_height_follows(width: float, ease: float) -> None:
    after = kind_named("refit-cap")(to=ease, width=width).apply(hollowed(block(), 8))
    cap = after.edge("sleeve", "cap")
    assert abs(cap.end - cap.start) == pytest.approx(width, abs=1e-6)
    assert measure(after, "sleeve.biceps-width") == pytest.approx(width, abs=1e-6)
    assert measure(after, "sleeve.cap-ease") == pytest.approx(ease, abs=1e-6)
    assert measure(after, "sleeve-seam.ease") == pytest.approx(0, abs=1e-6)


def test_a_given_width_and_a_way_are_one_too_many() -> None:
    with refusing(BadParameter, match="height follows"):
        kind_named("refit-cap")(width=340.0, how="width")


def test_moving_the_crown_notch_leaves_a_cap_of_the_right_length_as_it_is() -> None:
    draft = hollowed(block(), 7)
    assert [each.section for each in check(draft)] == ["front"]
    after = kind_named("refit-cap")(notch=True).apply(draft)
    assert check(after) == ()
    sleeve, old = after.piece("sleeve"), draft.piece("sleeve")
    assert all(a is b for a, b in zip(sleeve.edges, old.edges, strict=True))
    moved = [a.name for a, b in zip(sleeve.notches, old.notches, strict=True) if a != b]
    assert moved == ["crown"]


def test_the_notches_below_the_crown_match_those_of_the_armhole() -> None:
    after = refit(kind_named("lower-armhole")(by=15.0).apply(hollowed(block(), 8)), 35)
    at = {
        (piece.name, notch.name): min(
            along := notch.at.along(edge := piece.edge(notch.edge)), edge.length - along
        )
        for piece in after.pieces
        for notch in piece.notches
    }
    for piece, name in (("front", "front"), ("back", "back-lower"), ("back", "back-upper")):
        assert at["sleeve", name] == pytest.approx(at[piece, name], abs=1e-6)


def test_a_cap_whose_ends_kink_is_smoothed_though_its_ease_is_right() -> None:
    kinked = kind_named("widen-sleeve", 1)(by=20.0).apply(block())
    kinked = kind_named("raise-cap", 1)(by=-8.0).apply(kinked)
    assert [each.code for each in check(kinked)] == ["kink"]
    after = refit(kinked)
    assert check(after) == ()
    assert measure(after, "sleeve.cap-ease") == pytest.approx(
        measure(kinked, "sleeve.cap-ease"), abs=1e-6
    )
