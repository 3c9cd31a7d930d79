"""Bars of what a seam may hold: figures and marks against the walk they are made from."""

import re

import pytest

from tests.builders import block
from tests.cli.book.opened import tags
from trueup.cli.book.pages.bands import OnBand, band_words, on_bands
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.band import Band
from trueup.geometry.units import Unit

BAND = Band(25.0, 45.0, 1.6)


def told(now: float | None, after: float | None, band: Band = BAND):
    (words,) = band_words((OnBand("in all", band, now, after),), Unit.MILLIMETRE)
    return words


def marks(bar: str) -> dict[str, tuple[float, ...]]:
    """Return where the parts of a bar stand: the field's two ends, and each mark."""
    found = {}
    for tag in tags(bar):
        name = tag.attributes.get("class", "")
        if name == "allowed":
            left = float(tag.attributes["x"])
            found[name] = (left, left + float(tag.attributes["width"]))
        elif name in ("was", "is"):
            found[name] = (float(re.findall(r"M([\d.-]+)", tag.attributes["d"])[0]),)
    return found


@pytest.mark.parametrize("ease", [-30.0, 17.5, 25.0, 33.0, 45.0, 80.0])
def test_a_mark_stands_in_the_field_exactly_where_the_ease_is_allowed(ease):
    words = told(20.0, ease)
    found = marks(words.bar)
    low, high = found["allowed"]
    at, was = found["is"][0], found["was"][0]
    # The bar is one scale: what lies between two marks is as long as the ease between them.
    assert (at - was) / (high - low) == pytest.approx((ease - 20.0) / 20.0, abs=0.02)
    assert (low - 0.06 <= at <= high + 0.06) is (25.0 <= ease <= 45.0)
    assert all(0 <= x <= 150 for x in (low, high, at, was))


def test_what_is_outside_is_said_in_words_and_by_a_sign_not_by_the_bar_alone():
    assert told(30.0, 17.5).standing == "! outside"
    assert not told(30.0, 17.5).holds
    assert told(17.5, 30.0).standing == "+ matches"
    assert told(17.5, 46.0).standing == "+ within tolerance, 1.6 mm"
    assert told(17.5, 30.0).ease == "17.5 mm -> 30 mm"
    assert told(17.5, 17.5).ease == "17.5 mm"
    assert told(17.5, None).ease == "17.5 mm"


def test_a_band_of_no_width_and_ends_beyond_all_measure_are_drawn_as_well():
    for band in (Band(0.0, 0.0, 1.6), Band(0.0, 1e6)):
        found = marks(told(1.0, 0.0, band).bar)
        assert all(0 <= x <= 152 for ends in found.values() for x in ends)
        assert "was" in found


def test_a_cap_is_told_in_all_and_by_its_parts():
    draft = block()
    hollow = read_change(
        kind_named("scoop-armhole"), {"piece": "front", "by": "15mm"}, Unit.MILLIMETRE
    )
    after = hollow.apply(draft)
    walks = [walk(each, each.seam("armhole-seam")) for each in (draft, after)]
    found = on_bands(*walks)
    assert [each.name for each in found] == ["in all", "front part", "back part"]
    assert [each.now for each in found] == [walks[0].ease, *(s.ease for s in walks[0].sections)]
    assert [each.after for each in found] == [walks[1].ease, *(s.ease for s in walks[1].sections)]
    assert sum(each.after for each in found[1:]) == pytest.approx(found[0].after, abs=1e-6)
    assert on_bands(None, None) == ()
