"""The one writer of pictures: a scene as the text of an SVG document.

Coordinates are on the page as they stand, with no transforms; in what is no picture one unit is one
millimetre, for any tool to measure.
Format: W3C, Scalable Vector Graphics (SVG) 1.1 (Second Edition).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree

from trueup.cli.drawing.scene.hatching import hatch_lines
from trueup.cli.drawing.scene.scene import (
    BOLD,
    FINE,
    Anchor,
    Dimension,
    Group,
    HatchedArea,
    Item,
    Line,
    Mark,
    Pen,
    Run,
    Scene,
    Sign,
    Words,
)
from trueup.geometry.kept import kept
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, unit

_HATCH = 5.0  # widths of the seam line between two lines of a hatch

_DECLARATION = '<?xml version="1.0" encoding="UTF-8"?>\n'
SURROUNDINGS = (
    ".trueup-picture{color:black;background:white}.trueup-picture .paper{fill:white}"
    "@media (prefers-color-scheme:dark){.trueup-picture{color:#eee;background:#151515}"
    ".trueup-picture .paper{fill:#151515}}"
    "@media print{.trueup-picture{color:black;background:white}.trueup-picture .paper{fill:white}}"
)
_BEYOND_XML = dict.fromkeys(
    [*range(0x20), *range(0x7F, 0xA0), *range(0xD800, 0xE000), 0xFFFE, 0xFFFF],
    "\N{REPLACEMENT CHARACTER}",
)


def svg_text(scene: Scene, prefix: str = "") -> str:
    """Return a scene as the text of an SVG file; every id begins with the prefix."""
    root = _page(scene)
    writer = _Writer(scene, prefix)
    for item in scene.items:
        writer.write(root, item, Motion())
    ElementTree.indent(root)
    return _DECLARATION + ElementTree.tostring(root, encoding="unicode") + "\n"


def _page(scene: Scene) -> ElementTree.Element:
    picture = scene.is_picture
    scale, unit_name, ink = 1.0, "mm", "black"
    if picture:
        scale, unit_name, ink = 1.0 / scene.pen, "", "currentColor"
    attributes = {
        "xmlns": "http://www.w3.org/2000/svg",
        "width": f"{scene.width * scale:.6f}{unit_name}",
        "height": f"{scene.height * scale:.6f}{unit_name}",
        "viewBox": f"0 0 {scene.width:.6f} {scene.height:.6f}",
        "fill": "none",
        "stroke": ink,
        "stroke-width": f"{scene.pen:g}",
        "stroke-linecap": "round",
        "stroke-linejoin": "round",
    }
    if picture:
        # What is in an image is hidden from a screen reader; the links of a picture must not be.
        role = "group" if scene.has_links else "img"
        attributes |= {"class": "trueup-picture", "color": "black", "role": role}
    root = ElementTree.Element("svg", attributes)
    ElementTree.SubElement(root, "title").text = _clean(scene.title)
    if picture:
        ElementTree.SubElement(root, "style").text = SURROUNDINGS
    return root


@dataclass(frozen=True)
class _Writer:
    """Writes items one into another; lengths of pens and hatches follow from the scene."""

    scene: Scene
    prefix: str

    def write(self, parent: ElementTree.Element, item: Item, motion: Motion) -> None:
        match item:
            case Group():
                self._group(parent, item, motion)
            case Line():
                self._line(parent, item, motion)
            case HatchedArea():
                spacing = _HATCH * self.scene.pen
                lines = hatch_lines(item.shape, item.hatch, spacing, item.within)
                self._path(parent, self._lines_d(lines, motion), FINE, item.id)
            case Words():
                self._words(parent, item, motion)
            case Dimension():
                runs = _dimension_runs(item)
                self._path(parent, self._lines_d(runs, motion), BOLD, item.id)
            case Mark():
                self._mark(parent, item, motion)

    def _group(self, parent: ElementTree.Element, group: Group, motion: Motion) -> None:
        link = {"href": _clean(group.link)} if group.link else {}
        known = {
            f"data-{name}": _clean(text)
            for name, text in (("layer", group.layer), ("edge", group.edge))
            if text
        }
        element = ElementTree.SubElement(
            parent, "a" if link else "g", self._id(group.id) | link | known
        )
        if group.title:
            ElementTree.SubElement(element, "title").text = _clean(group.title)
        for item in group.items:
            self.write(element, item, motion.after(group.motion))

    def _line(self, parent: ElementTree.Element, line: Line, motion: Motion) -> None:
        drawn = " ".join(self._run(run, motion) for run in line.runs)
        path = self._path(parent, f"{drawn} Z" if line.closed else drawn, line.pen, line.id)
        if line.opaque:
            path.attrib |= {"fill": "white", "class": "paper"}
        elif line.emphasis:
            path.set("class", line.emphasis.value)

    def _path(
        self, parent: ElementTree.Element, drawn: str, pen: Pen, name: str
    ) -> ElementTree.Element:
        path = ElementTree.SubElement(parent, "path", {**self._id(name), "d": drawn})
        if pen.width != 1.0:
            path.set("stroke-width", f"{pen.width * self.scene.pen:.4g}")
        if pen.dashes:
            path.set("stroke-dasharray", " ".join(f"{d * self.scene.pen:.2g}" for d in pen.dashes))
        return path

    def _words(self, parent: ElementTree.Element, words: Words, motion: Motion) -> None:
        x, y = self._points("@", [words.at], motion).split(",")
        attributes = {
            **self._id(words.id),
            "x": x,
            "y": y,
            "font-family": "sans-serif",
            "font-size": f"{words.size:g}",
            "fill": "currentColor" if self.scene.is_picture else "black",
            "stroke": "none",
        }
        if words.anchor is not Anchor.START:
            attributes["text-anchor"] = words.anchor.value
        if words.bold:
            attributes["font-weight"] = "bold"
        ElementTree.SubElement(parent, "text", attributes).text = _clean(words.text)

    def _mark(self, parent: ElementTree.Element, mark: Mark, motion: Motion) -> None:
        group = ElementTree.SubElement(parent, "g", self._id(mark.id))
        if mark.place is not None:
            self._path(group, self._lines_d([(mark.place, mark.at)], motion), FINE, "")
        at, radius = motion(mark.at), mark.radius
        fill = {"fill": "white", "class": "paper"}
        if mark.sign is Sign.DISC:
            x, y = self._points("@", [mark.at], motion).split(",")
            place = {"cx": x, "cy": y, "r": f"{radius:g}"}
            ElementTree.SubElement(group, "circle", {**place, **fill})
        else:
            peak, foot = at - 1.5j * radius, at + 1j * radius
            corners = [peak, foot + 1.5 * radius, foot - 1.5 * radius]
            drawn = f"{self._lines_d([corners], Motion())} Z"
            ElementTree.SubElement(group, "path", {"d": drawn, **fill})
        letters = Words(str(mark.number), mark.at + 0.45j * radius, 1.25 * radius, Anchor.MIDDLE)
        self._words(group, letters, motion)

    def _id(self, name: str) -> dict[str, str]:
        return {"id": _clean(self.prefix + name)} if name else {}

    def _run(self, run: Run, motion: Motion) -> str:
        if not isinstance(run, Chain):
            return self._lines_d([run], motion)
        curves = [p for c in run.cubics for p in (c.start_control, c.end_control, c.end)]
        return self._points("M @" + " C @ @ @" * len(run.cubics), [run.start, *curves], motion)

    def _lines_d(self, lines: Sequence[Sequence[Point]], motion: Motion) -> str:
        form = " ".join("M @" + " L @" * (len(points) - 1) for points in lines)
        return self._points(form, [point for points in lines for point in points], motion)

    def _points(self, form: str, points: Iterable[Point], motion: Motion) -> str:
        """Return a text in which each @ is the next of some points."""
        moved = map(motion, points)
        numbers = tuple(amount for point in moved for amount in (point.real, point.imag))
        written = form.replace("@", f"{self._number_form},{self._number_form}") % numbers
        nought = self._number_form % 0.0
        return written.replace(f"-{nought}", nought)

    @kept
    def _number_form(self) -> str:
        return "%.2f" if self.scene.is_picture else "%.6f"


def _dimension_runs(item: Dimension) -> list[tuple[Point, Point]]:
    along = item.end - item.start
    tick = (unit(along) if along else 1) * 1j * item.tick
    ticks = [(end - tick, end + tick) for end in (item.start, item.end)]
    return [(item.start, item.end), *ticks]


def _clean(text: str) -> str:
    """Return a text with what XML cannot hold, escaped or not, replaced."""
    return text.translate(_BEYOND_XML)
