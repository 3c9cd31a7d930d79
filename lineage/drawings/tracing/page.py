"""The lines of a drawing on its page, in mm: units, viewBox and transforms worked in.

Only what can be told for certain is read. A page that does not state its size on paper, a shape
that is no line, and whatever could act or lead out of the file is refused.
"""

import re
from dataclasses import dataclass
from math import cos, hypot, radians, sin, sqrt
from xml.etree import ElementTree

from fontTools.pens.basePen import BasePen

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point
from trueup.geometry.tolerance import FLATTEN
from trueup.lineage.drawings.safe_svg import NUMBER, TooFar, elements, follow, local, require_near
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import FARTHEST, MOST_FLAT, MOST_MOVES, MOST_POINTS

DESCRIPTION = "trueup-draft"
"""The id of the element that says of a draft what its paths do not."""

_MM = {"mm": 1.0, "cm": 10.0, "in": 25.4}
_SIZE = re.compile(r"([0-9]{1,9}(?:\.[0-9]{1,9})?)(mm|cm|in)")
_FOUR = re.compile(rf"\s*({NUMBER})[\s,]+({NUMBER})[\s,]+({NUMBER})[\s,]+({NUMBER})\s*")
_MOVES = re.compile(r"\s*([a-z]+)\s*\(([^()]*)\)[\s,]*")
_NUMBERS = re.compile(rf"\s*{NUMBER}(?:[\s,]+{NUMBER}){{0,5}}\s*")
_PASSED_OVER = frozenset(
    ("title", "desc", "metadata", "defs", "text", "style", "namedview", "marker", "clipPath")
)
_HOLDERS = frozenset(("svg", "g", "a"))
_SHAPES = frozenset(("path", "line", "polyline", "polygon"))
_STRETCHED = 1e-4  # share; more between the two directions and a circle would be no circle


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


@dataclass(frozen=True)
class _Affine:
    """x' = a x + c y + e, y' = b x + d y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def __call__(self, p: Point) -> Point:
        x, y = p.real, p.imag
        return complex(self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def after(self, first: "_Affine") -> "_Affine":
        corner, across, down = (self(first(p)) for p in (0j, 1 + 0j, 1j))
        across, down = across - corner, down - corner
        return _Affine(across.real, across.imag, down.real, down.imag, corner.real, corner.imag)

    @property
    def is_of_a_size(self) -> bool:
        """Return whether it keeps shapes: turned, mirrored and scaled alike in all directions."""
        across, down = hypot(self.a, self.b), hypot(self.c, self.d)
        skew = abs(self.a * self.c + self.b * self.d)
        largest = max(across, down)
        return (
            0 < largest <= FARTHEST
            and abs(across - down) <= _STRETCHED * largest
            and skew <= _STRETCHED * largest * largest
        )


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


def _page_units(root: ElementTree.Element, place: str) -> _Affine:
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
    if abs(across - down) > _STRETCHED * max(across, down):
        raise BadRecord(place, "its viewBox and its size on paper are of different proportions")
    return _Affine(across, 0.0, 0.0, across, -left * across, -top * across)


def _transform(text: str, place: str) -> _Affine:
    motion, end, whole = _Affine(), 0, text.strip()
    for _ in range(MOST_MOVES):
        if end == len(whole):
            break
        found = _MOVES.match(whole, end)
        if not found or not _NUMBERS.fullmatch(found[2]):
            raise BadRecord(place, f'its transform "{text[:40]}" cannot be read')
        amounts = [float(number) for number in re.split(r"[\s,]+", found[2].strip())]
        one = _one_move(found[1], amounts)
        if one is None:
            raise BadRecord(place, f'its transform "{text[:40]}" is none that keeps shapes')
        motion, end = motion.after(one), found.end()
    if end < len(whole):
        raise BadRecord(place, f"a transform of it has more than {MOST_MOVES} moves")
    if not motion.is_of_a_size:
        raise BadRecord(place, f'its transform "{text[:40]}" is none that keeps shapes')
    return motion


def _one_move(word: str, amounts: list[float]) -> _Affine | None:
    move: _Affine | None = None
    match word, amounts:
        case "translate", [x, *rest] if len(rest) < 2:
            move = _Affine(e=x, f=rest[0] if rest else 0.0)
        case "scale", [x, *rest] if len(rest) < 2:
            move = _Affine(a=x, d=rest[0] if rest else x)
        case "rotate", [degrees, *rest] if len(rest) in (0, 2):
            x, y = rest or (0.0, 0.0)
            c, s = cos(radians(degrees)), sin(radians(degrees))
            move = _Affine(c, s, -s, c, x - c * x + s * y, y - s * x - c * y)
        case "matrix", [a, b, c, d, e, f]:
            move = _Affine(a, b, c, d, e, f)
    return move


def _line(element: ElementTree.Element, motion: _Affine, place: str, number: int) -> Drawn | None:
    name = element.get("id") or f"line-{number}"
    pen = _Pen(motion)
    follow(_path_data(element), pen, place, name)
    runs = tuple(Chain(tuple(run)) for run in pen.runs if run)
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


class _Pen(BasePen):  # type: ignore[misc]
    """Follows a path and keeps its curves, in mm on the page."""

    def __init__(self, motion: _Affine) -> None:
        super().__init__(None)
        self.runs: list[list[Cubic]] = []
        self.is_closed = False
        self._motion = motion
        self._start = (0.0, 0.0)
        self._count = 0

    def _moveTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        require_near(pt)
        self._start = pt
        self.runs.append([])

    def _lineTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        require_near(pt)
        start, end = (self._placed(p) for p in (self._getCurrentPoint(), pt))
        if start != end:
            self._add(Cubic.line(start, end))

    def _curveToOne(  # noqa: N802
        self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]
    ) -> None:
        require_near(pt1, pt2, pt3)
        self._add(Cubic(*(self._placed(p) for p in (self._getCurrentPoint(), pt1, pt2, pt3))))

    def _closePath(self) -> None:  # noqa: N802
        self._lineTo(self._start)
        self.is_closed = True

    def _placed(self, pt: tuple[float, float]) -> Point:
        placed = self._motion(complex(*pt))
        require_near((placed.real, placed.imag))
        return placed

    def _add(self, cubic: Cubic) -> None:
        self._count += 1
        if self._count > MOST_POINTS:
            raise TooFar(f"its path has more than {MOST_POINTS} points")
        self.runs[-1].append(cubic)
