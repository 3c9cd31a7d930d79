"""The graph of a wardrobe as a picture: parents left of their children, open conflicts marked.

A block stands in a bold frame, a pattern in a thin one. What became of the last correction stands
below the name, by sign and word. Generations stand in columns, so that a wide family makes a long
picture and not a wide one; every node has a row, a parent that of its first child. A node hangs on
the youngest of its parents; from others a line comes between the rows, behind no frame.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from trueup.cli.drawing.scene.layout import text_room
from trueup.cli.drawing.scene.scene import (
    BEFORE,
    BOLD,
    SEAM,
    Anchor,
    Group,
    Item,
    Line,
    Pen,
    Scene,
    Words,
)
from trueup.geometry.lines.points import Point
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.files.state import State

_MARGIN = 20.0
_SIZE = 14.0
_PEN = 1.0
_ROW_GAP = 1.1 * _SIZE
_COLUMN_GAP = 3.0 * _SIZE
_TOP = _MARGIN + 2.5 * _SIZE


@dataclass(frozen=True)
class _Place:
    """Where the frame of a node stands: its middle, and its width and height."""

    middle: Point
    width: float
    height: float

    @property
    def left(self) -> Point:
        """The end of the name's line on the left, where lines arrive."""
        return self.top - 0.5 * self.width + 1.05j * _SIZE

    @property
    def right(self) -> Point:
        """The end of the name's line on the right, where lines leave."""
        return self.left + self.width

    @property
    def top(self) -> Point:
        return self.middle - 0.5j * self.height


def tree_picture(
    state: State,
    title: str,
    verdicts: Mapping[str, str] | None = None,
    links: Mapping[str, str] | None = None,
) -> Scene:
    """Return the picture of the graph.

    `verdicts` are words to set below the names of nodes, `links` where nodes lead to.
    """
    words = {name: _words(state.nodes[name], verdicts or {}) for name in state.in_order}
    placed = _placed(state, words)
    items: list[Item] = [Words(title, complex(_MARGIN, _MARGIN + _SIZE), 1.1 * _SIZE, bold=True)]
    for name in state.in_order:
        for parent in state.nodes[name].parents:
            if parent.name in placed.places:
                run = _way(placed, parent.name, name)
                pen = BEFORE if parent.hold else SEAM
                items.append(Line((run,), pen, f"from.{parent.name}.to.{name}"))
    for name, place in placed.places.items():
        pen = BOLD if state.nodes[name].is_block else SEAM
        inner = _node(name, words[name], place, pen)
        link = (links or {}).get(name, "")
        items += [Group(tuple(inner), link=link)] if link else inner
    key = "Bold frame: block. Thin frame: pattern. Dashed: stays on an earlier version. ! conflict."
    height = placed.bottom + 2.5 * _SIZE
    items.append(Words(key, complex(_MARGIN, height), 0.9 * _SIZE))
    least = max(text_room(key, 0.9 * _SIZE), text_room(title, 1.1 * _SIZE)) + 2 * _MARGIN
    width = max(placed.right + _MARGIN, least)
    return Scene(width, height + _MARGIN, title, tuple(items), _PEN)


def _words(node: NodeRecord, verdicts: Mapping[str, str]) -> tuple[str, ...]:
    """Return the lines in the frame of a node."""
    found = [node.name]
    if node.name in verdicts:
        found.append(verdicts[node.name])
    if node.style is not None:
        found.append(f"style of {node.style.name}")
    count = len(node.open_conflicts)
    if count:
        found.append(f"! {count} open conflict{'' if count == 1 else 's'}")
    return tuple(found)


def _node(name: str, words: tuple[str, ...], place: _Place, pen: Pen) -> list[Item]:
    half = complex(place.width, place.height) / 2
    corners = (
        place.middle - half,
        place.middle + half.conjugate(),
        place.middle + half,
        place.middle - half.conjugate(),
    )
    items: list[Item] = [Line((corners,), pen, f"node.{name}", closed=True, opaque=True)]
    first = place.top + 1.35j * _SIZE
    for line, text in enumerate(words):
        at = first + 1.3j * line * _SIZE
        items.append(Words(text, at, _SIZE, Anchor.MIDDLE, bold=line == 0))
    return items


def _way(placed: "_Placed", parent: str, child: str) -> tuple[Point, ...]:
    """Return the line from a parent to a child: across, down or up, across."""
    start, end = placed.places[parent].right, placed.places[child].left
    bend = end.real - 0.6 * _COLUMN_GAP
    if placed.hangs_on[child] == parent:
        return (start, complex(bend, start.imag), complex(bend, end.imag), end)
    # Past other columns, above the row of the child, and in below the line it hangs on.
    between = placed.row_top[child] - 0.5 * _ROW_GAP
    leaves = placed.column_end[parent] + 0.2 * _COLUMN_GAP
    enters = end.real - 0.3 * _COLUMN_GAP
    end += 0.5j * _SIZE
    return (
        start,
        complex(leaves, start.imag),
        complex(leaves, between),
        complex(enters, between),
        complex(enters, end.imag),
        end,
    )


@dataclass(frozen=True)
class _Placed:
    """Where all nodes stand: on whom each hangs, where its row starts and where its column ends."""

    places: Mapping[str, _Place]
    hangs_on: Mapping[str, str | None]
    row_top: Mapping[str, float]
    column_end: Mapping[str, float]

    @property
    def right(self) -> float:
        return max((place.right.real for place in self.places.values()), default=_MARGIN)

    @property
    def bottom(self) -> float:
        bottoms = (place.middle.imag + place.height / 2 for place in self.places.values())
        return max(bottoms, default=_TOP)


def _placed(state: State, words: Mapping[str, tuple[str, ...]]) -> _Placed:
    sizes = {
        name: (
            max(text_room(text, _SIZE) for text in lines) + 1.5 * _SIZE,
            (1.3 * len(lines) + 0.8) * _SIZE,
        )
        for name, lines in words.items()
    }
    hangs_on, columns = _generations(state)
    rows = _rows(state, hangs_on)
    heights, widths = dict[int, float](), dict[int, float]()
    for name, (width, height) in sizes.items():
        heights[rows[name]] = max(heights.get(rows[name], 0.0), height)
        widths[columns[name]] = max(widths.get(columns[name], 0.0), width)
    tops = _starts(heights, _TOP, _ROW_GAP)
    lefts = _starts(widths, _MARGIN, _COLUMN_GAP)
    places = {}
    for name, (width, height) in sizes.items():
        across = lefts[columns[name]] + width / 2
        places[name] = _Place(complex(across, tops[rows[name]] + height / 2), width, height)
    return _Placed(
        places,
        hangs_on,
        {name: tops[rows[name]] for name in sizes},
        {name: lefts[columns[name]] + widths[columns[name]] for name in sizes},
    )


def _starts(extents: Mapping[int, float], first: float, gap: float) -> dict[int, float]:
    """Return where each row or column starts."""
    found, start = dict[int, float](), first
    for index in sorted(extents):
        found[index] = start
        start += extents[index] + gap
    return found


def _generations(state: State) -> tuple[dict[str, str | None], dict[str, int]]:
    """Return on which parent each node hangs, the youngest there is, and how many are above it."""
    depth, hangs_on = dict[str, int](), dict[str, str | None]()
    for name in state.in_order:
        parents = [p.name for p in state.nodes[name].parents if p.name in depth]
        hangs_on[name] = max(parents, key=depth.__getitem__, default=None)
        depth[name] = max((depth[parent] + 1 for parent in parents), default=0)
    return hangs_on, depth


def _rows(state: State, hangs_on: Mapping[str, str | None]) -> dict[str, int]:
    """Return the row of each node: its own where nothing hangs on it, else that of its first."""
    below: dict[str | None, list[str]] = {}
    for name in state.in_order:
        below.setdefault(hangs_on[name], []).append(name)
    rows, row = dict[str, int](), 0
    waiting = list(reversed(below.get(None, [])))
    while waiting:
        name = waiting.pop()
        rows[name] = row
        if name in below:
            waiting += reversed(below[name])
        else:
            row += 1
    return rows
