"""Seams walked section by section, from one matched mark to the next."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.sections import cap_halves, shared_out
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import Draft, Section
from trueup.geometry.pieces.position import Position

CAP = "armhole-seam"


def with_crown_at(draft: Draft, share: float) -> Draft:
    sleeve = draft.piece("sleeve")
    at = Position("front-underarm", share=share)
    notches = (replace(n, at=at) if n.name == "crown" else n for n in sleeve.notches)
    return draft.with_pieces(replace(sleeve, notches=tuple(notches)))


@given(drafts())
@settings(max_examples=30)
def test_both_halves_of_a_drafted_cap_hold_what_they_may(draft: Draft):
    walked = walk(draft, draft.seam(CAP))
    assert [part.section.name for part in walked.sections] == ["front", "back"]
    assert sum(part.ease for part in walked.sections) == pytest.approx(walked.ease)
    assert all(part.matches for part in walked.sections)


def test_a_cap_right_in_all_and_wrong_in_front_is_found():
    draft = with_crown_at(block(), 0.46)
    assert walk(draft, draft.seam(CAP)).matches
    (found,) = check(draft)
    assert (found.code, found.section) == ("seam", "front")
    assert found.measured == pytest.approx(walk(draft, draft.seam(CAP)).sections[0].ease)
    assert [each.facts["section"] for each in found.says.also] == ["front"]


def test_one_seam_is_one_finding_that_measures_what_is_farthest_off():
    draft = kind_named("scoop-armhole")(piece="front", by=20.0).apply(block())
    (found,) = check(draft)
    walked = walk(draft, draft.seam(CAP))
    parts = [walked.excess, *(part.excess for part in walked.sections)]
    assert -found.excess == pytest.approx(min(parts))


def test_a_seam_may_state_its_sections_itself():
    seam = block().seam(CAP)
    allowed = Band(0.0, 5.0, 1.6)
    stated = (
        Section("front", allowed, ("crown", "shoulder-point")),
        Section("back", Band(0.0, 90.0)),
    )
    draft = block().with_seam(replace(seam, sections=stated))
    (found,) = check(draft)
    assert (found.section, found.low, found.high) == ("front", 0.0, 5.0)


@pytest.mark.parametrize(("front", "back", "worst"), [(5.0, 18.0, "front"), (12.0, 5.0, "back")])
def test_of_two_sections_outside_the_farther_is_measured(front: float, back: float, worst: str):
    stated = (
        Section("front", Band(0.0, front, 1.6), ("crown", "shoulder-point")),
        Section("back", Band(0.0, back, 1.6)),
    )
    draft = block().with_seam(replace(block().seam(CAP), sections=stated))
    walked = walk(draft, draft.seam(CAP))
    outside = {part.section.name: part.ease - part.section.allowed.high for part in walked.sections}
    assert min(outside.values()) > 1.6
    (found,) = check(draft)
    assert (found.section, found.excess) == (worst, pytest.approx(max(outside.values())))
    assert [each.facts["section"] for each in found.says.also] == ["front", "back"]


def test_walked_from_the_other_end_the_halves_are_the_same():
    seam = block().seam(CAP)
    side, mate = (
        tuple(replace(run, backwards=not run.backwards) for run in runs[::-1])
        for runs in (seam.side, seam.mate)
    )
    front, back = cap_halves(seam.allowed)
    stated = (replace(back, ends_at=front.ends_at), replace(front, ends_at=back.ends_at))
    there = walk(block(), seam).sections
    back_again = walk(block(), replace(seam, side=side, mate=mate, sections=stated)).sections
    assert [part.section.name for part in back_again] == ["back", "front"]
    assert [part.ease for part in back_again[::-1]] == pytest.approx([part.ease for part in there])
    assert there[1].ease - there[0].ease > 5


def test_a_cap_without_a_crown_notch_is_walked_as_a_whole():
    sleeve = block().piece("sleeve")
    notches = tuple(n for n in sleeve.notches if n.name != "crown")
    draft = block().with_pieces(replace(sleeve, notches=notches))
    assert walk(draft, draft.seam(CAP)).sections == ()
    assert check(draft) == ()


def test_a_side_seam_has_no_sections():
    assert walk(block(), block().seam("side-seam")).sections == ()


@given(st.floats(-40, 40), st.floats(0, 100), st.floats(-20, 200))
def test_an_ease_is_shared_out_whole_and_within_the_bands_where_they_allow_it(low, span, ease):
    halves = cap_halves(Band(low, low + span))
    parts = shared_out(ease, halves)
    assert sum(parts) == pytest.approx(ease)
    least = sum(half.allowed.low for half in halves)
    most = sum(half.allowed.high for half in halves)
    if least <= ease <= most:
        slack = Band.excess
        for half, part in zip(halves, parts, strict=True):
            assert slack(half.allowed, part) == pytest.approx(0, abs=1e-6)


def test_two_fifths_of_the_ease_go_in_front():
    front, back = cap_halves(Band(25.0, 45.0, 1.6))
    assert (front.allowed, back.allowed) == (Band(10.0, 18.0, 1.6), Band(15.0, 30.0, 1.6))
