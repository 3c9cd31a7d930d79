import pytest

from tests.builders import block
from tests.geometry.cloth.test_cut_cloth import with_allowances
from tests.turned import turned_piece
from trueup.geometry.cloth.areas_moved import PointLine
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.cloth.laid_edge import LaidEdge, laid_edge, lying_cloth, need_of
from trueup.geometry.lines.points import Motion

BACK = with_allowances(block(), 15.0, 40.0).piece("back")


def side(out: float, least: float = 6.0, hem: float = 0.0) -> LaidEdge:
    """Return the side seam of the back laid farther out on its cloth, and at the hem still more."""
    line = BACK.edge("side")
    flare = Motion.turn(line.start, -hem / line.length)
    moved = turned_piece(BACK, Motion(shift=complex(out)).after(flare))
    edge = moved.edge("side")
    lying = lying_cloth(cutting_line(BACK), BACK, moved)
    need = need_of(lying, BACK, edge, least)
    return laid_edge(lying, BACK, edge, PointLine.along(edge), BACK.inward, need)


def test_what_lacks_is_what_the_allowance_cannot_give() -> None:
    assert side(9.0).worst == pytest.approx(0, abs=0.2)
    assert side(12.0).worst == pytest.approx(3, abs=0.2)
    assert side(12.0, least=10.0).worst == pytest.approx(7, abs=0.2)


def test_the_cloth_around_it_is_its_depth() -> None:
    edge = side(0.0)
    inner = edge.depths[len(edge.depths) // 3 : -len(edge.depths) // 3]
    assert inner == pytest.approx(15, abs=0.1)
    assert abs(edge.moved).max() < 1e-6


def test_it_is_pointed_at_where_it_lacks_most() -> None:
    edge = side(12.0, hem=10.0)
    assert edge.worst == pytest.approx(13, abs=0.5)
    assert edge.place == edge.edge.end


def test_it_is_pointed_at_where_it_moved_most_if_nothing_lacks() -> None:
    edge = side(-8.0, hem=-10.0)
    assert edge.worst == 0
    assert edge.place == edge.edge.end


@pytest.mark.parametrize("out", [0.0, 8.0, 12.0])
def test_it_is_pointed_at_in_its_middle_if_it_moved_alike_all_along(out: float) -> None:
    edge = side(out)
    assert abs(edge.place - edge.edge.point_at(edge.edge.length / 2)) < 2


def test_a_deep_hem_of_a_narrow_piece_is_let_down_as_far_as_any() -> None:
    """The hem is 149 mm long and 40 mm deep, between side seams of 4 mm."""
    back = with_allowances(block(), 4.0, 40.0).piece("back")
    assert 3 * 40 < back.edge("hem").length < 4 * 40
    need = need_of(lying_cloth(cutting_line(back), back, back), back, back.edge("hem"), 6.0)
    assert (need.cloth, need.spare) == pytest.approx((6, 34), abs=0.1)


def test_cloth_on_a_fold_goes_on_beyond_it() -> None:
    front = with_allowances(block()).piece("front")
    cloth = cutting_line(front)
    assert lying_cloth(cloth, front, front).lying.area == pytest.approx(2 * cloth.area, rel=1e-3)
    assert lying_cloth(cutting_line(BACK), BACK, BACK).lying.equals(cutting_line(BACK))
