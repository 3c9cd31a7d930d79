import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.corners import amounts
from tests.refusals import refusing
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.finding import Finding
from trueup.geometry.measuring.forms import forms
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.tolerance import SEAM
from trueup.geometry.units import Unit


def stated(draft: Draft, seam: str, low: float, high: float, section: str | None = None) -> Draft:
    return kind_named("state-ease")(seam=seam, low=low, high=high, section=section).apply(draft)


def uneven(draft: Draft) -> list[Finding]:
    return [each for each in check(draft) if each.code == "seam"]


def longer_behind(by: float) -> Draft:
    return kind_named("lengthen")(piece="back", by=by).apply(block())


@given(amounts(5, 60))
@settings(max_examples=20)
def test_a_back_meant_to_be_longer_over_a_vent_is_true(by: float):
    longer = longer_behind(by)
    assert len(uneven(longer)) == 1
    vented = stated(longer, "side-seam", -60, 0)
    assert uneven(vented) == []
    assert all(a is b for a, b in zip(vented.pieces, longer.pieces, strict=True))


def test_what_is_stated_is_still_checked():
    draft = stated(longer_behind(75), "side-seam", -60, 0)
    (found,) = uneven(draft)
    assert (found.low, found.high) == (-60, 0)
    assert found.measured == pytest.approx(-75, abs=0.5)
    assert found.excess == pytest.approx(15, abs=0.5)


def test_a_section_is_stated_by_itself_and_the_whole_holds_what_they_hold():
    draft = stated(block(), "armhole-seam", 12, 15, "front")
    seam = draft.seam("armhole-seam")
    assert seam.allowed == Band(12 + 15, 15 + 30, SEAM)
    front, back = walk(draft, seam).sections
    assert front.section.allowed == Band(12, 15, SEAM)
    assert back.section.allowed == Band(15, 30, SEAM)
    assert check(draft) == ()


def test_a_cap_stated_anew_is_divided_anew():
    draft = stated(stated(block(), "armhole-seam", 12, 15, "front"), "armhole-seam", 0, 10)
    front, back = walk(draft, draft.seam("armhole-seam")).sections
    assert (front.section.allowed.high, back.section.allowed.high) == pytest.approx((4, 20 / 3))
    assert [each.code for each in check(draft)] == ["seam"]


def test_what_is_not_there_or_upside_down_is_refused():
    with pytest.raises(NoSuchName, match="seam"):
        stated(block(), "waist-seam", 0, 1)
    with pytest.raises(NoSuchName, match="front, back"):
        stated(block(), "armhole-seam", 0, 1, "middle")
    with refusing(BadParameter, match="low"):
        stated(block(), "side-seam", 2, 1)


def test_it_is_judged_by_what_the_seam_may_hold():
    change = kind_named("state-ease")(seam="side-seam", low=-60.0, high=0.0)
    before, after = forms(block()), forms(change.apply(block()))
    assert {name for name in after if after[name] != before.get(name)} == {"side-seam.least"}
    assert {"side-seam.least", "side-seam.most"} == set(change.drawn(block()))
    assert change.in_words(Unit.CENTIMETRE) == "state the ease of side-seam, -6 cm to 0 cm"


def test_stating_two_seams_is_no_same_place():
    side = kind_named("state-ease")(seam="side-seam", low=0.0, high=1.0)
    shoulder = kind_named("state-ease")(seam="shoulder-seam", low=0.0, high=1.0)
    assert not side.same_place(shoulder)
    assert side.same_place(side)
