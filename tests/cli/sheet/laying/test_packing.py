"""Boxes on shelves: apart, inside, and as high as the shelves are."""

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.refusals import refusing
from trueup.cli.sheet.laying.packing import Box, TooWide, packed

WIDTH = 900.0
GAP = 10.0

sizes = st.lists(
    st.tuples(st.floats(1, WIDTH), st.floats(1, 1500), st.booleans()), min_size=0, max_size=12
)


def boxes(given_sizes: list[tuple[float, float, bool]]) -> list[Box]:
    return [Box(f"piece {n}", *each) for n, each in enumerate(given_sizes)]


@settings(max_examples=100)
@given(sizes)
def test_no_two_boxes_come_nearer_than_the_gap(
    given_sizes: list[tuple[float, float, bool]],
) -> None:
    placed = packed(boxes(given_sizes), WIDTH, GAP, "the table")
    for one, other in combinations(boxes(given_sizes), 2):
        a, b = placed.places[one.name], placed.places[other.name]
        beside = max(b.real - a.real - one.width, a.real - b.real - other.width)
        below = max(b.imag - a.imag - one.height, a.imag - b.imag - other.height)
        assert max(beside, below) >= GAP - 1e-6


@settings(max_examples=100)
@given(sizes)
def test_all_boxes_lie_inside_what_is_said_to_be_used(
    given_sizes: list[tuple[float, float, bool]],
) -> None:
    placed = packed(boxes(given_sizes), WIDTH, GAP, "the table")
    assert placed.width <= WIDTH + 1e-6
    for box in boxes(given_sizes):
        at = placed.places[box.name]
        assert at.real >= 0
        assert at.imag >= 0
        assert at.real + box.width <= placed.width + 1e-6
        assert at.imag + box.height <= placed.height + 1e-6
        assert not box.at_side or at.real == 0


def test_what_is_wider_than_the_area_is_refused_by_name() -> None:
    with refusing(TooWide, match=r"front: it is 300 mm wide, and the cloth offers 200 mm"):
        packed([Box("front", 300, 10)], 200, GAP, "the cloth")


def test_lower_boxes_stand_beside_the_highest() -> None:
    placed = packed([Box("low", 50, 20), Box("high", 50, 100)], 200, GAP, "the cloth")
    assert placed.places == {"high": 0, "low": 60}
    assert (placed.width, placed.height) == (110, 100)


@settings(max_examples=50)
@given(sizes, st.floats(300, 1600))
def test_no_box_lies_on_two_pages(
    given_sizes: list[tuple[float, float, bool]], page: float
) -> None:
    placed = packed(boxes(given_sizes), WIDTH, GAP, "the table", page)
    for box in boxes(given_sizes):
        top = (placed.places[box.name].imag + 1e-6) % (page + GAP)
        assert top + box.height <= page + 1e-3 or box.height > page - 1e-3
