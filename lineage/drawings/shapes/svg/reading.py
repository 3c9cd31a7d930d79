"""Read an SVG drawing as editors and libraries write it: every visible line, in mm on its page.

Groups, layers, transforms and `use` are worked in. What does not show on paper is left out and
told; what could act or lead out of the file is refused.
"""

import re
from collections import Counter
from dataclasses import dataclass, field
from math import sqrt
from xml.etree import ElementTree

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point
from trueup.geometry.tolerance import DRAWN_TOGETHER, FLATTEN, SAME_POINT
from trueup.lineage.drawings.safe_svg import elements, follow, local
from trueup.lineage.drawings.shapes.affine import Affine
from trueup.lineage.drawings.shapes.shape import Shape, ShapePage, Text
from trueup.lineage.drawings.shapes.svg.outlines import path_data
from trueup.lineage.drawings.shapes.svg.page_size import (
    PageSize,
    fitted,
    in_units,
    page_size,
    view_box,
)
from trueup.lineage.drawings.shapes.svg.pen import ArcPen, PathRun
from trueup.lineage.drawings.shapes.svg.style import StyleSheet, is_hidden, is_seen
from trueup.lineage.drawings.shapes.svg.transforms import transform
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import DEEPEST_USE, FARTHEST, MOST_ELEMENTS, MOST_FLAT

_SHAPES = frozenset(("path", "line", "polyline", "polygon", "rect", "circle", "ellipse"))
_HOLDERS = frozenset(("svg", "g", "a", "switch"))
_ACTS = frozenset(("script", "iframe"))
_LABELS = ("label", "data-name", "aria-label")
_SVG = "{http://www.w3.org/2000/svg}"


@dataclass
class _Reading:
    place: str
    by_id: dict[str, ElementTree.Element]
    sheet: StyleSheet
    shapes: list[Shape] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    left_out: Counter[str] = field(default_factory=Counter)
    ids: set[str] = field(default_factory=set)
    seen: int = 0
    backwards: int = 0
    points: float = 0.0


@dataclass(frozen=True)
class _At:
    """Where in the tree an element is met: what stands above it."""

    motion: Affine
    look: dict[str, str] = field(default_factory=dict)
    groups: tuple[str, ...] = ()
    used: int = 0


def read_svg(content: bytes, place: str) -> ShapePage:
    """Return the lines and texts of an SVG drawing; `place` is what a message calls the file.

    Raises BadRecord for what is no drawing, could act, or is larger than any.
    """
    root = next(iter(elements(content, place, doctype=True)))
    for element in root.iter():
        _refuse_what_acts(element, place)
    size = page_size(root, place)
    by_id = {e.get("id", ""): e for e in root.iter() if e.get("id")}
    reading = _Reading(place, by_id, StyleSheet.of(root))
    waiting = [(root, _At(size.way))]
    while waiting:
        element, at = waiting.pop()
        waiting += reversed(_met(reading, element, at, is_root=element is root))
    return _page(reading, size)


def _page(reading: _Reading, size: PageSize) -> ShapePage:
    notes = tuple(
        f"{'One line was' if count == 1 else f'{count} lines were'} left out: {why}."
        for why, count in reading.left_out.items()
    )
    shapes, texts = tuple(reading.shapes), tuple(reading.texts)
    mirrored = bool(texts) and reading.backwards == len(texts)
    return ShapePage(shapes, texts, (), size.says, size.is_sized, notes, mirrored)


def _met(
    reading: _Reading, element: ElementTree.Element, at: _At, *, is_root: bool
) -> list[tuple[ElementTree.Element, _At]]:
    """Take up one element, and return the elements below it that are to be met next."""
    kind = local(element)
    if kind == "image":
        reading.left_out["it is a picture in the drawing; trace the picture itself"] += 1
    if not str(element.tag).startswith(_SVG) or kind not in _SHAPES | _HOLDERS | {"use", "text"}:
        return []
    reading.seen += 1
    if reading.seen > 2 * MOST_ELEMENTS:
        raise BadRecord(
            reading.place, f"it holds more than {2 * MOST_ELEMENTS} parts once laid out"
        )
    look = reading.sheet.look(element, at.look)
    if is_hidden(look):
        hidden = sum(local(each) in _SHAPES for each in element.iter())
        if hidden:
            reading.left_out["hidden in the drawing"] += hidden
        return []
    motion = at.motion
    moved = element.get("transform") or ""
    if moved:
        motion = motion.after(transform(moved, reading.place))
    if re.search(r"(?<![a-z-])transform\s*:", element.get("style", "")):
        reason = "a part of it is moved by its style; write the move as a transform"
        raise BadRecord(reading.place, reason, field=element.get("id", ""))
    below = _At(motion, look, at.groups, at.used)
    if kind in _SHAPES:
        _take_line(reading, element, below)
        return []
    if kind == "text":
        _take_text(reading, element, below)
        return []
    if kind == "use":
        return _used(reading, element, below)
    if kind == "svg" and not is_root:
        below = _nested(reading, element, below)
    names = () if is_root else _names(element)
    inside = _At(below.motion, look, (*at.groups, *names), at.used)
    return [(child, inside) for child in element]


def _used(
    reading: _Reading, element: ElementTree.Element, at: _At
) -> list[tuple[ElementTree.Element, _At]]:
    """Return what a `use` stands for, moved to where it lies."""
    target = next((v for n, v in element.attrib.items() if n.rpartition("}")[2] == "href"), "")
    found = reading.by_id.get(target.removeprefix("#"))
    if found is None:
        raise BadRecord(reading.place, f'it uses "{target[:40]}", which is not in it')
    if at.used >= DEEPEST_USE:
        reason = f"its parts use one another more than {DEEPEST_USE} deep"
        raise BadRecord(reading.place, reason, field=target)
    x, y = (in_units(element.get(word), reading.place) for word in ("x", "y"))
    motion = at.motion.after(Affine(e=x, f=y))
    inside = _At(motion, at.look, (*at.groups, *_names(element)), at.used + 1)
    if local(found) == "symbol":
        return [(child, inside) for child in found]
    return [(found, inside)]


def _nested(reading: _Reading, element: ElementTree.Element, at: _At) -> _At:
    x, y = (in_units(element.get(word), reading.place) for word in ("x", "y"))
    way = Affine(e=x, f=y)
    box = view_box(element, reading.place)
    if box is not None:
        wide, high = (
            in_units(element.get(word), reading.place, box[k])
            for word, k in (("width", 2), ("height", 3))
        )
        way = way.after(fitted(box, wide, high, element.get("preserveAspectRatio", "")))
    return _At(at.motion.after(way), at.look, at.groups, at.used)


def _take_line(reading: _Reading, element: ElementTree.Element, at: _At) -> None:
    kind = local(element)
    name = element.get("id") or next(iter(_names(element)), "") or f"line-{len(reading.ids) + 1}"
    pen = ArcPen(at.motion)
    follow(path_data(element, reading.place), pen, reading.place, name, arcs=True)
    runs = [found for run in pen.runs if (found := _chain(run))]
    if not runs:
        return
    if not is_seen(at.look):
        reading.left_out["neither their stroke nor their fill shows on paper"] += len(runs)
        return
    labels = _names(element)
    for number, (chain, is_closed) in enumerate(runs, start=1):
        own = _own_id(reading, name if number == 1 else f"{name}-{number}")
        reading.points += _flat_points(chain)
        if reading.points > MOST_FLAT:
            reason = "its lines are longer, or more bent, than those of any pattern"
            raise BadRecord(reading.place, reason, field=own)
        where = f"the {kind} {own}"
        reading.shapes.append(Shape(own, chain, is_closed, at.groups, labels, where))


def _chain(run: PathRun) -> tuple[Chain, bool] | None:
    """Return the chain of a run, and whether it is closed: also one that ends where it began."""
    cubics = [cubic for cubic in run.cubics if cubic.span > SAME_POINT]
    if not cubics:
        return None
    chain = Chain.joining([Chain((cubic,)) for cubic in cubics])
    gap = abs(chain.end - chain.start)
    if run.is_closed or gap <= DRAWN_TOGETHER < chain.length / 3:
        return chain.ending_at(chain.start), True
    return chain, False


def _flat_points(chain: Chain) -> float:
    """Return about how many points a line is flattened to (the bound of `Cubic.flattened`)."""
    bends = (
        max(
            abs(c.start - 2 * c.start_control + c.end_control),
            abs(c.start_control - 2 * c.end_control + c.end),
        )
        for c in chain.cubics
    )
    return sum(1 + sqrt(0.75 * bend / FLATTEN) for bend in bends)


def _own_id(reading: _Reading, name: str) -> str:
    """Return an id that no other line has."""
    own, count = name, 1
    while own in reading.ids:
        count += 1
        own = f"{name}-{count}"
    reading.ids.add(own)
    return own


def _take_text(reading: _Reading, element: ElementTree.Element, at: _At) -> None:
    """Take up a text, a line for each part of it that has a place of its own."""
    lines: list[tuple[Point, list[str]]] = [(_place(element, 0j, reading.place), [])]
    if element.text:
        lines[-1][1].append(element.text)
    for part in element.iter():
        if part is element or local(part) not in ("tspan", "textPath"):
            continue
        if any(word in part.attrib for word in ("x", "y", "dy")):
            lines.append((_place(part, lines[-1][0], reading.place), []))
        lines[-1][1].extend(text for text in (part.text, part.tail) if text)
    for at_point, words in lines:
        says = " ".join("".join(words).split())
        if says:
            placed = at.motion(at_point)
            if max(abs(placed.real), abs(placed.imag)) <= FARTHEST:
                reading.texts.append(Text(says[:200], placed, at.groups))
                way = at.motion
                reading.backwards += way.a * way.d < way.b * way.c


def _place(element: ElementTree.Element, before: Point, place: str) -> Point:
    """Return where a text begins; of a list of places for each letter the first."""

    def first(word: str) -> float | None:
        written = re.split(r"[\s,]+", element.get(word, "").strip())[0]
        if not written or written.endswith(("em", "ex", "%")):
            return None
        return in_units(written, place)

    x, y = first("x"), first("y")
    down = first("dy") or 0.0
    return complex(before.real if x is None else x, (before.imag if y is None else y) + down)


def _names(element: ElementTree.Element) -> tuple[str, ...]:
    """Return what an element is called: its label, its title, its id."""
    found = [
        value
        for name, value in element.attrib.items()
        if name.rpartition("}")[2] in _LABELS and value.strip()
    ]
    found += [e.text for e in element if local(e) == "title" and e.text and e.text.strip()]
    found.append(element.get("id", ""))
    return tuple(dict.fromkeys(" ".join(text.split())[:200] for text in found if text))


def _refuse_what_acts(element: ElementTree.Element, place: str) -> None:
    kind = local(element)
    if kind in _ACTS:
        raise BadRecord(place, f"it holds a {kind}, which no drawing of lines needs")
    if kind == "style" and re.search(r"@import|url\s*\((?!\s*['\"]?#)", element.text or ""):
        raise BadRecord(place, "its style leads out of the file")
    for name, value in element.attrib.items():
        word = name.rpartition("}")[2].lower()
        if word.startswith("on") and name == word:
            raise BadRecord(place, f"it holds a script ({word})")
        embedded = kind == "image" and value.startswith("data:image/")
        if word == "href" and not (value.startswith("#") or embedded):
            raise BadRecord(place, "it refers to something outside the file")
