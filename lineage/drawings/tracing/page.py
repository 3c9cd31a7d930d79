"""The lines of a drawing on its page, in mm: units, viewBox and transforms worked in.

Only what can be told for certain is read. A page that does not state its size on paper, a shape
that is no line, and whatever could act or lead out of the file is refused.
"""

import re
from dataclasses import dataclass
from math import sqrt
from xml.etree import ElementTree

from trueup.geometry.lines.chain import Chain
from trueup.geometry.tolerance import FLATTEN
from trueup.lineage.drawings.safe_svg import NUMBER, elements, follow, local
from trueup.lineage.drawings.shapes.affine import STRETCHED, Affine
from trueup.lineage.drawings.shapes.svg.pen import ChainPen
from trueup.lineage.drawings.shapes.svg.transforms import transform
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import FARTHEST, MOST_FLAT

DESCRIPTION = "trueup-draft"
"""The id of the element that says of a draft what its paths do not."""

_MM = {"mm": 1.0, "cm": 10.0, "in": 25.4}
_SIZE = re.compile(r"([0-9]{1,9}(?:\.[0-9]{1,9})?)(mm|cm|in)")
_FOUR = re.compile(rf"\s*({NUMBER})[\s,]+({NUMBER})[\s,]+({NUMBER})[\s,]+({NUMBER})\s*")
_PASSED_OVER = frozenset(
    ("title", "desc", "metadata", "defs", "text", "style", "namedview", "marker", "clipPath")
)
_HOLDERS = frozenset(("svg", "g", "a"))
_SHAPES = frozenset(("path", "line", "polyline", "polygon"))


@dataclass(frozen=True)
class Drawn:
    """One line of a drawing, mm on the page: its id, and its runs, mostly one."""

    name: str
    runs: tuple[Chain, ...]
    is_closed: bool

    @property
    def length(self) -> float:
        """Return its whole length, mm."""
        return sum(run.length for run in self.runs)

    @property
    def points(self) -> float:
        """Return about how many points it is flattened to (the bound of `Cubic.flattened`)."""
        curves = ((c, c.start_control, c.end_control) for run in self.runs for c in run.cubics)
        bends = (max(abs(c.start - 2 * a + b), abs(a - 2 * b + c.end)) for c, a, b in curves)
        return sum(1 + sqrt(0.75 * bend / FLATTEN) for bend in bends)


@dataclass(frozen=True)
class DrawingPage:
    """The lines of a drawing in their order, and the text that describes them, if there is one."""

    lines: tuple[Drawn, ...]
    description: str | None


def read_page(content: bytes, place: str) -> DrawingPage:
    """Return the lines of an SVG drawing, mm, y down; `place` is what a message calls the file.

    Raises BadRecord for what is no drawing on paper, or could be read in more than one way.
    """
    root = next(iter(elements(content, place)))
    for element in root.iter():
        _refuse_what_acts(element, place)
    lines: list[Drawn] = []
    described: list[str] = []
    waiting = [(root, _page_units(root, place))]
    points = 0.0
    while waiting:
        element, motion = waiting.pop()
        kind = local(element)
        moved = element.get("transform")
        if moved and kind not in _PASSED_OVER:
            motion = motion.after(_transform(moved, place))
        if kind == "metadata" and element.get("id") == DESCRIPTION:
            described.append(element.text or "")
        elif kind in _SHAPES:
            line = _line(element, motion, place, len(lines) + 1)
            points += line.points if line else 0
            if points > MOST_FLAT:
                reason = "its lines are longer, or more bent, than those of any pattern"
                raise BadRecord(place, reason)
            if line:
                lines.append(line)
        elif kind in _HOLDERS and (element is root or kind != "svg"):
            waiting += [(child, motion) for child in reversed(element)]
        elif kind not in _PASSED_OVER and str(element.tag).startswith("{http://www.w3.org"):
            raise BadRecord(place, f"it holds a {kind}; make a path of it, or take it out")
    if len(described) > 1:
        raise BadRecord(place, "it describes its pieces twice")
    return DrawingPage(tuple(lines), described[0] if described else None)


def _refuse_what_acts(element: ElementTree.Element, place: str) -> None:
    kind = local(element)
    if kind in ("script", "foreignObject", "image", "use", "iframe"):
        raise BadRecord(place, f"it holds a {kind}, which no drawing of lines needs")
    if kind == "style" and re.search(r"@import|url\s*\(", element.text or ""):
        raise BadRecord(place, "its style leads out of the file")
    for name, value in element.attrib.items():
        word = name.rpartition("}")[2].lower()
        if word.startswith("on"):
            raise BadRecord(place, f"it holds a script ({word})")
        if word == "href" and not value.startswith("#"):
            raise BadRecord(place, "it refers to something outside the file")


def _page_units(root: ElementTree.Element, place: str) -> Affine:
    """Return the way from the units of a drawing to mm on its page."""
    sizes = [_SIZE.fullmatch(root.get(word, "").strip()) for word in ("width", "height")]
    box = _FOUR.fullmatch(root.get("viewBox", ""))
    if not (sizes[0] and sizes[1]):
        raise BadRecord(
            place, "it does not say how large it is on paper: give its width and height in mm"
        )
    if not box:
        raise BadRecord(place, "it has no viewBox, so that its units stand for no length on paper")
    left, top, wide, high = (float(number) for number in box.groups())
    width, height = (float(size[1]) * _MM[size[2]] for size in sizes if size)
    if not (0 < wide <= FARTHEST * 1000 and 0 < high <= FARTHEST * 1000 and width and height):
        raise BadRecord(place, "its viewBox is no page")
    across, down = width / wide, height / high
    if abs(across - down) > STRETCHED * max(across, down):
        raise BadRecord(place, "its viewBox and its size on paper are of different proportions")
    return Affine(across, 0.0, 0.0, across, -left * across, -top * across)


def _transform(text: str, place: str) -> Affine:
    motion = transform(text, place)
    if not motion.is_of_a_size:
        raise BadRecord(place, f'its transform "{text[:40]}" is none that keeps shapes')
    return motion


def _line(element: ElementTree.Element, motion: Affine, place: str, number: int) -> Drawn | None:
    name = element.get("id") or f"line-{number}"
    pen = ChainPen(motion)
    follow(_path_data(element), pen, place, name)
    runs = tuple(Chain(tuple(run.cubics)) for run in pen.runs if run.cubics)
    if not runs:
        return None
    return Drawn(name, runs, pen.is_closed)


def _path_data(element: ElementTree.Element) -> str:
    kind = local(element)
    if kind == "path":
        return element.get("d", "")
    if kind == "line":
        x1, y1, x2, y2 = (element.get(word, "0") for word in ("x1", "y1", "x2", "y2"))
        return f"M {x1} {y1} L {x2} {y2}"
    points = element.get("points", "")
    return f"M {points}{' Z' if kind == 'polygon' else ''}" if points.strip() else ""
