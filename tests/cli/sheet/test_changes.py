"""The cloth between an old piece and the new, and the hatch over it."""

import pytest
import shapely

from tests.builders import block
from tests.cli.sheet.test_cut_list import rectangle
from trueup.cli.sheet.changes import between
from trueup.cli.sheet.ink.drawn import InkPen
from trueup.cli.sheet.ink.hatch import SPACING, hatched
from trueup.geometry.comparing.laying import moved
from trueup.geometry.lines.points import Motion

OLD = rectangle("sleeve", 300, 400)
WIDER = rectangle("sleeve", 310, 400)


def test_a_piece_let_out_is_hatched_where_it_was_let_out() -> None:
    strip = between(OLD, WIDER)
    assert strip.bounds == pytest.approx((300, 0, 310, 400))
    assert between(WIDER, OLD).bounds == pytest.approx((300, 0, 310, 400))


def test_a_piece_that_stayed_is_not_hatched() -> None:
    assert between(OLD, OLD).is_empty
    assert between(OLD, rectangle("sleeve", 300, 400)).is_empty
    assert between(OLD, rectangle("sleeve", 300.05, 400)).is_empty


def test_a_piece_with_a_fold_that_only_shifted_across_is_not_hatched() -> None:
    front = block().piece("front")
    assert between(front, moved(front, Motion(shift=12 + 0j))).is_empty


def test_the_hatch_fills_the_place_and_stays_inside() -> None:
    place = shapely.Point(100, 100).buffer(30)
    lines = [
        shapely.LineString([(p.real, p.imag) for p in stroke.points])
        for stroke in hatched(place, InkPen.CHANGED)
    ]
    assert all(place.buffer(1e-9).contains(line) for line in lines)
    assert sum(line.length for line in lines) * SPACING == pytest.approx(place.area, rel=0.03)


def test_the_hatch_of_nothing_is_nothing() -> None:
    assert list(hatched(shapely.Polygon(), InkPen.CHANGED)) == []
