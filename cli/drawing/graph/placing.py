"""Where the frames of a graph stand, and the ways between them. Pure."""

from collections.abc import Mapping
from dataclasses import dataclass

from trueup.cli.drawing.graph.lanes import GraphLanes, lanes_of
from trueup.cli.drawing.graph.rows import Order, order_of
from trueup.cli.drawing.scene.crossings import Way
from trueup.cli.drawing.scene.layout import text_room
from trueup.geometry.lines.points import Point
from trueup.lineage.files.state import State

SIZE = 14.0
"""How high the letters are."""
LINE = 1.3 * SIZE
MARGIN = 20.0
_LANE = 14.0  # from one line between two columns to the next
_ROW_LANE = 12.0  # and between two rows
_ROW_GAP = 1.1 * SIZE


@dataclass(frozen=True)
class FramePlace:
    """Where the frame of a node stands: its middle, and its width and height."""

    middle: Point
    width: float
    height: float

    @property
    def left(self) -> Point:
        """The end of the name's line on the left, where lines arrive."""
        return self.top - 0.5 * self.width + 1.05j * SIZE

    @property
    def right(self) -> Point:
        """The end of the name's line on the right, where lines leave."""
        return self.left + self.width

    @property
    def top(self) -> Point:
        """The middle of its upper edge."""
        return self.middle - 0.5j * self.height


@dataclass(frozen=True)
class PlacedGraph:
    """Where all nodes stand, in the order they are read, and the way from each to its children."""

    places: Mapping[str, FramePlace]
    ways: Mapping[tuple[str, str], Way]

    @property
    def right(self) -> float:
        """How far the frames reach to the right."""
        return max((place.right.real for place in self.places.values()), default=MARGIN)

    @property
    def bottom(self) -> float:
        """How far down the frames reach."""
        bottoms = (place.middle.imag + place.height / 2 for place in self.places.values())
        return max(bottoms, default=MARGIN)


def placed(state: State, words: Mapping[str, tuple[str, ...]], top: float) -> PlacedGraph:
    """Return where nodes stand with some lines of words in their frames, from a height on down."""
    order = order_of(state)
    arrows = [
        (parent.name, name)
        for name in order.as_read
        for parent in state.nodes[name].parents
        if parent.name in order.rows
    ]
    passing = [arrow for arrow in arrows if order.hangs_on[arrow[1]] != arrow[0]]
    lanes = lanes_of(passing, order)
    sizes = {
        name: (
            max(text_room(text, SIZE) for text in lines) + 1.5 * SIZE,
            len(lines) * LINE + 0.8 * SIZE,
        )
        for name, lines in words.items()
    }
    page = _Page.laid_out(order, lanes, sizes, top)
    places = {}
    for name in order.as_read:
        width, height = sizes[name]
        left, upper = page.lefts[order.columns[name]], page.tops[order.rows[name]]
        places[name] = FramePlace(complex(left + width / 2, upper + height / 2), width, height)
    by = {arrow: (page.passing if arrow in passing else page.hanging) for arrow in arrows}
    return PlacedGraph(places, {arrow: by[arrow](arrow, places) for arrow in arrows})


@dataclass(frozen=True)
class _Page:
    """Where the columns and rows of a graph start, with room for the lanes between them."""

    order: Order
    lanes: GraphLanes
    lefts: Mapping[int, float]
    ends: Mapping[int, float]
    tops: Mapping[int, float]

    @classmethod
    def laid_out(
        cls, order: Order, lanes: GraphLanes, sizes: Mapping[str, tuple[float, float]], top: float
    ) -> "_Page":
        heights, widths = dict[int, float](), dict[int, float]()
        for name, (width, height) in sizes.items():
            row, column = order.rows[name], order.columns[name]
            heights[row] = max(heights.get(row, 0.0), height)
            widths[column] = max(widths.get(column, 0.0), width)
        lefts, tops, left = dict[int, float](), dict[int, float](), MARGIN
        for column in sorted(widths):
            lefts[column] = left
            left += widths[column] + (lanes.beside(column, order) + 3) * _LANE
        for row in sorted(heights):
            top += max(lanes.over(row) - 1 + (row == 0 and lanes.over(row) > 0), 0) * _ROW_LANE
            tops[row] = top
            top += heights[row] + _ROW_GAP
        ends = {column: lefts[column] + widths[column] for column in lefts}
        return cls(order, lanes, lefts, ends, tops)

    def hanging(self, arrow: tuple[str, str], places: Mapping[str, FramePlace]) -> Way:
        """Return the way to a node from the parent it hangs on: across, down or up, across."""
        start, end = places[arrow[0]].right, places[arrow[1]].left
        bend = end.real - 2 * _LANE
        return (start, complex(bend, start.imag), complex(bend, end.imag), end)

    def passing(self, arrow: tuple[str, str], places: Mapping[str, FramePlace]) -> Way:
        """Return the way from another parent: past other columns, above the row of the node."""
        parent, child = arrow
        start, end = places[parent].right, places[child].left - 0.5j * SIZE
        row = self.order.rows[child]
        lane = self.lanes.above[row, parent]
        between = self.tops[row] - 0.5 * _ROW_GAP - lane * _ROW_LANE
        leaves = self.ends[self.order.columns[parent]] + (self.lanes.leaving[parent] + 1) * _LANE
        enters = end.real - _LANE
        return (
            start,
            complex(leaves, start.imag),
            complex(leaves, between),
            complex(enters, between),
            complex(enters, end.imag),
            end,
        )
