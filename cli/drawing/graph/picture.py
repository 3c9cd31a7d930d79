"""The graph of a wardrobe as a picture: parents left of their children, open conflicts marked.

A block stands in a bold frame, a pattern in a thin one, and where a conflict waits in a double
one. What became of the last correction stands below the name, by sign and word.
"""

from collections.abc import Mapping, Sequence

from trueup.cli.drawing.graph.placing import LINE, MARGIN, SIZE, FramePlace, placed
from trueup.cli.drawing.key import KEY_LINE, KeyEntry, key_items, key_rows, key_width
from trueup.cli.drawing.scene.crossings import bridged, crossings
from trueup.cli.drawing.scene.layout import text_room
from trueup.cli.drawing.scene.scene import (
    BEFORE,
    BOLD,
    SEAM,
    Anchor,
    Group,
    Item,
    Line,
    Scene,
    Words,
)
from trueup.geometry.lines.points import Point
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.files.state import State

_PEN = 1.0
_HEAD = 1.1 * SIZE
_SMALL = 0.9 * SIZE
_INNER = 3.5  # from a frame to the one inside it


def tree_picture(
    state: State,
    title: str,
    words: Mapping[str, str] | None = None,
    links: Mapping[str, str] | None = None,
    *,
    heading: Sequence[str] = (),
    key: Sequence[KeyEntry] = (),
) -> Scene:
    """Return the picture of the graph.

    `words` are set below the names of nodes, `links` lead from nodes to elsewhere. `heading` is
    written above, a line each, and the `key` below, where neither stands beside the picture.
    """
    lines = {name: _lines(state.nodes[name], words or {}) for name in state.in_order}
    top = MARGIN + (len(heading) * LINE + SIZE if heading else 0.0)
    graph = placed(state, lines, top)
    items: list[Item] = []
    for number, text in enumerate(heading):
        at = complex(MARGIN, MARGIN + SIZE + number * LINE)
        items.append(Words(text, at, _SMALL if number else _HEAD, bold=not number))
    over = crossings(graph.ways)
    for (parent, name), way in graph.ways.items():
        followed = next(each for each in state.nodes[name].parents if each.name == parent)
        pen = BEFORE if followed.hold else SEAM
        run = bridged(way, over[parent, name])
        items.append(Line((run,), pen, f"from.{parent}.to.{name}"))
    for name, place in graph.places.items():
        inner = _node(state.nodes[name], lines[name], place)
        link = (links or {}).get(name, "")
        items += [Group(tuple(inner), link=link)] if link else inner
    rows = key_rows(key, _SMALL) if key else ()
    bottom = graph.bottom + (0.5 * SIZE if rows else 0.0)
    for row in rows:
        bottom += KEY_LINE * _SMALL
        items += key_items(row, complex(MARGIN, bottom - 0.7 * SIZE), _SMALL)
    widest = [text_room(text, _HEAD) for text in heading] + [key_width(r, _SMALL) for r in rows]
    width = max(graph.right, max(widest, default=0.0) + MARGIN) + MARGIN
    return Scene(width, bottom + MARGIN, title, tuple(items), _PEN)


def _lines(node: NodeRecord, words: Mapping[str, str]) -> tuple[str, ...]:
    """Return the lines in the frame of a node."""
    found = [node.name]
    if words.get(node.name):
        found.append(words[node.name])
    if node.style is not None:
        found.append(f"style of {node.style.name}")
    count = len(node.open_conflicts)
    if count:
        found.append(f"! {count} open conflict{'' if count == 1 else 's'}")
    return tuple(found)


def _node(node: NodeRecord, words: tuple[str, ...], place: FramePlace) -> list[Item]:
    pen = BOLD if node.is_block else SEAM
    items: list[Item] = [Line((_frame(place),), pen, f"node.{node.name}", closed=True, opaque=True)]
    if node.open_conflicts:
        items.append(Line((_frame(place, _INNER),), SEAM, f"waits.{node.name}", closed=True))
    first = place.top + 1.35j * SIZE
    for line, text in enumerate(words):
        at = first + 1j * line * LINE
        items.append(Words(text, at, SIZE, Anchor.MIDDLE, bold=line == 0))
    return items


def _frame(place: FramePlace, inside: float = 0.0) -> tuple[Point, ...]:
    half = complex(place.width, place.height) / 2 - complex(inside, inside)
    return (
        place.middle - half,
        place.middle + half.conjugate(),
        place.middle + half,
        place.middle - half.conjugate(),
    )
