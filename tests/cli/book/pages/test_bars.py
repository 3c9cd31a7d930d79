"""The bar beside what arrived of a correction."""

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trueup.cli.book.pages.bars import bar
from trueup.lineage.replay.verdicts import Carried

WANTED = st.floats(0.1, 300) | st.floats(-300, -0.1)


def filled(carried: Carried) -> tuple[float, float]:
    """Return where the fill begins and ends, where the box of what was wanted is from 0 to 1."""
    got, wanted = ElementTree.fromstring(str(bar(carried))).findall("rect")
    start, room = float(wanted.attrib["x"]), float(wanted.attrib["width"])
    left, width = float(got.attrib["x"]), float(got.attrib["width"])
    return (left - start) / room, (left + width - start) / room


@given(WANTED, st.floats(0, 1.5))
def test_the_fill_is_as_long_as_the_share_that_arrived(wanted: float, share: float) -> None:
    begins, ends = filled(Carried("front.armhole", wanted, share * wanted))
    assert begins == pytest.approx(0)
    assert ends == pytest.approx(share, abs=0.01)


@given(WANTED, st.floats(0, 0.5))
def test_what_came_the_wrong_way_is_filled_outside_the_box(wanted: float, share: float) -> None:
    begins, ends = filled(Carried("front.armhole", wanted, -share * wanted))
    assert begins == pytest.approx(-share, abs=0.01)
    assert ends == pytest.approx(0, abs=0.01)


@given(WANTED, st.floats(-1e6, 1e6) | st.none())
def test_no_bar_is_longer_than_its_room(wanted: float, got: float | None) -> None:
    begins, ends = filled(Carried("front.armhole", wanted, got))
    assert -0.51 <= begins <= 0.01
    assert -0.01 <= ends <= 1.51


def test_where_nothing_was_wanted_there_is_no_bar() -> None:
    assert bar(Carried("front.armhole", 0.0, 3.0)) == ""
