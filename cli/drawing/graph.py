"""The graph of a wardrobe as a picture: parents above their children, open conflicts marked.

A block stands in a bold frame, a pattern in a thin one. What became of the last correction stands
below the name, by sign and word.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from cli.drawing.layout import text_room
from cli.drawing.scene import (
    BEFORE,
    BOLD,
    SEAM,
    Anchor,
    Item,
    Line,
    Pen,
    Scene,
    Words,
)
from geometry.points import Point
from lineage.records import NodeRecord
from lineage.state import State

_MARGIN = 20.0
_SIZE = 14.0
_PEN = 1.0
_ROUNDS = 6


@dataclass(frozen=True)
class _Place:
    """Where the frame of a node stands: its middle, and its width and height."""

    middle: Point
    width: float
    height: float

    @property
    def top(self) -> Point:
        return self.middle - 0.5j * self.height

    @property
    def bottom(self) -> Point:
        return self.middle + 0.5j * self.height


def tree_picture(state: State, title: str, verdicts: Mapping[str, str] | None = None) -> Scene:
    """Return the picture of the graph; `verdicts` are words to set below the names of nodes."""
    words = {name: _words(state.nodes[name], verdicts or {}) for name in state.in_order}
    places, width, height = _placed(state, words)
    items: list[Item] = [Words(title, complex(_MARGIN, _MARGIN + _SIZE), 1.1 * _SIZE, bold=True)]
    for name in state.in_order:
        for parent in state.nodes[name].parents:
            if parent.name in places:
                run = _way(places[parent.name], places[name])
                pen = BEFORE if parent.hold else SEAM
                items.append(Line((run,), pen, f"from.{parent.name}.to.{name}"))
    for name, place in places.items():
        pen = BOLD if state.nodes[name].is_block else SEAM
        items += _node(name, words[name], place, pen)
    key = "Bold frame: block. Thin frame: pattern. Dashed: stays on an earlier version. ! conflict."
    items.append(Words(key, complex(_MARGIN, height + 1.5 * _SIZE), 0.9 * _SIZE))
    least = max(text_room(key, 0.9 * _SIZE), text_room(title, 1.1 * _SIZE)) + 2 * _MARGIN
    return Scene(max(width, least), height + 2 * _SIZE + _MARGIN, title, tuple(items), _PEN)


def _words(node: NodeRecord, verdicts: Mapping[str, str]) -> tuple[str, ...]:
    """Return the lines in the frame of a node."""
    found = [node.name]
    if node.name in verdicts:
        found.append(verdicts[node.name])
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


def _way(parent: _Place, child: _Place) -> tuple[Point, ...]:
    """Return the line from a parent down to a child: down, across, down."""
    half = (parent.bottom.imag + child.top.imag) / 2
    if child.middle.imag - parent.middle.imag > 2.5 * (child.top.imag - half) + child.height:
        half = child.top.imag - 1.5 * _SIZE
    return (
        parent.bottom,
        complex(parent.bottom.real, half),
        complex(child.top.real, half),
        child.top,
    )


def _placed(
    state: State, words: Mapping[str, tuple[str, ...]]
) -> tuple[dict[str, _Place], float, float]:
    sizes = {
        name: (
            max(text_room(text, _SIZE) for text in lines) + 1.5 * _SIZE,
            (1.3 * len(lines) + 0.8) * _SIZE,
        )
        for name, lines in words.items()
    }
    layers = _layers(state)
    across = _across(state, layers, sizes)
    left = min((across[n] - sizes[n][0] / 2 for n in across), default=0.0)
    places, top, right = dict[str, _Place](), _MARGIN + 3.5 * _SIZE, _MARGIN
    for layer in layers:
        tall = max(sizes[name][1] for name in layer)
        for name in layer:
            width, height = sizes[name]
            middle = complex(across[name] - left + _MARGIN, top + height / 2)
            places[name] = _Place(middle, width, height)
            right = max(right, middle.real + width / 2)
        top += tall + 3.5 * _SIZE
    return places, right + _MARGIN, max(top - 2.5 * _SIZE, _MARGIN + 3.5 * _SIZE)


def _layers(state: State) -> list[list[str]]:
    """Return the nodes by how many generations they lie below a block without parents."""
    depth: dict[str, int] = {}
    for name in state.in_order:
        parents = [p.name for p in state.nodes[name].parents if p.name in depth]
        depth[name] = max((depth[parent] + 1 for parent in parents), default=0)
    layers: list[list[str]] = [[] for _ in range(max(depth.values(), default=-1) + 1)]
    for name in state.in_order:
        layers[depth[name]].append(name)
    return layers


def _across(
    state: State, layers: list[list[str]], sizes: Mapping[str, tuple[float, float]]
) -> dict[str, float]:
    """Return where each node stands across: near the middle of its parents and its children."""
    beside: dict[str, list[str]] = {name: [] for layer in layers for name in layer}
    for name, neighbours in beside.items():
        for parent in state.nodes[name].parents:
            if parent.name in beside:
                neighbours.append(parent.name)
                beside[parent.name].append(name)
    across: dict[str, float] = {}
    for layer in layers:
        _spread(layer, {name: float(k) for k, name in enumerate(layer)}, sizes, across)
    for _ in range(_ROUNDS):
        for layer in (*reversed(layers), *layers):
            wanted = {
                name: sum(across[other] for other in beside[name]) / len(beside[name])
                if beside[name]
                else across[name]
                for name in layer
            }
            _spread(layer, wanted, sizes, across)
    return across


def _spread(
    layer: list[str],
    wanted: Mapping[str, float],
    sizes: Mapping[str, tuple[float, float]],
    across: dict[str, float],
) -> None:
    """Put the nodes of a layer in the order they want, as near to it as their widths let them."""
    ordered = sorted(layer, key=lambda name: wanted[name])
    right = float("-inf")
    for name in ordered:
        half = sizes[name][0] / 2
        across[name] = max(wanted[name], right + half + 1.5 * _SIZE)
        right = across[name] + half
    # Pushed to the right one after the other: shifted back as a whole to where they wanted to be.
    back = sum(across[name] - wanted[name] for name in ordered) / max(len(ordered), 1)
    for name in ordered:
        across[name] -= back
