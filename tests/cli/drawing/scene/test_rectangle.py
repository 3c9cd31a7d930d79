"""Lines cut off at the sides of a rectangle."""

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from trueup.cli.drawing.scene.rectangle import Rectangle

AREA = Rectangle(10, 20, 110, 170)
points = st.complex_numbers(max_magnitude=300, allow_nan=False, allow_infinity=False)


@settings(max_examples=100)
@given(st.lists(points, min_size=2, max_size=8, unique=True))
def test_what_is_left_is_what_lies_inside(line: list[complex]) -> None:
    parts = list(AREA.cut_off(line))
    assert all(AREA.holds(part) for part in parts)
    length = sum(LineString([(p.real, p.imag) for p in part]).length for part in parts)
    whole = LineString([(p.real, p.imag) for p in line])
    assert length <= whole.length + 1e-6
    if whole.is_simple:
        assert abs(length - whole.intersection(box(10, 20, 110, 170)).length) < 1e-6


def test_a_line_inside_is_left_as_it_is() -> None:
    line = (20 + 30j, 40 + 50j, 20 + 30j)
    assert list(AREA.cut_off(line)) == [line]


def test_a_line_that_rounding_put_a_hair_outside_is_left() -> None:
    hair = 1e-12
    for line in (
        [20 + (170 + hair) * 1j, 40 + (170 + hair) * 1j],
        [20 + (20 - hair) * 1j, 40 + (20 - hair) * 1j],
        [10 - hair + 30j, 10 - hair + 50j],
        [110 + hair + 30j, 110 + hair + 50j],
    ):
        (part,) = AREA.cut_off(line)
        assert AREA.holds(part)
        assert abs(part[1] - part[0]) == 20


def test_a_line_that_passes_twice_comes_in_two_parts() -> None:
    line = [0 + 30j, 120 + 30j, 120 + 40j, 0 + 40j]
    assert len(list(AREA.cut_off(line))) == 2


@given(st.lists(points, min_size=1, max_size=8), st.lists(points, min_size=1, max_size=8))
def test_a_rectangle_around_points_holds_them_and_joined_holds_both(
    some: list[complex], more: list[complex]
) -> None:
    one, other = Rectangle.around(some), Rectangle.around(more)
    assert one.holds(some)
    both = one.joined(other)
    assert both.holds([*some, *more])
    assert both == Rectangle.around([*some, *more])
