"""The one writer of pictures: a scene as the text of an SVG document.

Coordinates are on the page as they stand, with no transforms; in what is no picture one unit is one
millimetre, for any tool to measure.
Format: W3C, Scalable Vector Graphics (SVG) 1.1 (Second Edition).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from trueup.cli.drawing.scene.elements import attribute, element, nested
from trueup.cli.drawing.scene.hatching import hatch_lines
from trueup.cli.drawing.scene.path_data import PathData, numbers, pairs
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
from trueup.cli.terminal.typesetting import Signs
from trueup.geometry.lines.points import Motion, Point, unit

_HATCH = 5.0  # widths of the seam line between two lines of a hatch

_DECLARATION = '<?xml version="1.0" encoding="UTF-8"?>'
_SURROUNDINGS = (
    ".trueup-picture{color:black;background:white}.trueup-picture .paper{fill:white}"
    "@media (prefers-color-scheme:dark){.trueup-picture{color:#eee;background:#151515}"
    ".trueup-picture .paper{fill:#151515}}"
    "@media print{.trueup-picture{color:black;background:white}.trueup-picture .paper{fill:white}}"
)
_PAPER = attribute("fill", "white") + attribute("class", "paper")


_REAL = Signs(are_real=True)


def svg_text(scene: Scene, prefix: str = "", signs: Signs = _REAL) -> str:
    """Return a scene as the text of an SVG file; every id begins with the prefix.

    The words of a picture are set with the `signs` that whoever draws it has.
    """
    return "\n".join([_DECLARATION, *_element(_Writer(scene, prefix, signs)), ""])


def svg_element(scene: Scene, prefix: str = "", attributes: str = "") -> str:
    """Return a scene as an element of a page, which gives it its colours, with more `attributes`.

    Every id begins with the prefix.
    """
    return "\n".join([*_element(_Writer(scene, prefix, _REAL, in_page=True), attributes), ""])


def _element(writer: "_Writer", attributes: str = "") -> Sequence[str]:
    scene = writer.scene
    heading = [element("title", "", writer.set(scene.title))]
    if scene.is_picture and not writer.in_page:
        heading.append(element("style", "", _SURROUNDINGS))
    drawn = (line for item in scene.items for line in writer.written(item, Motion()))
    return nested("svg", attributes + _page(scene), [*heading, *drawn])


def _page(scene: Scene) -> str:
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
    return "".join(attribute(name, value) for name, value in attributes.items())


@dataclass(frozen=True)
class _Writer:
    """Writes items one into another; lengths of pens and hatches follow from the scene."""

    scene: Scene
    prefix: str
    signs: Signs
    in_page: bool = False

    def set(self, text: str) -> str:
        """Return a text as it is drawn; what is no picture has it as it is."""
        return self.signs.line(text) if self.scene.is_picture else text

    def written(self, item: Item, motion: Motion) -> Sequence[str]:
        """Return an item in lines, each element in one of its own."""
        match item:
            case Group():
                return self._group(item, motion)
            case Line():
                return [self._line(item, motion)]
            case HatchedArea():
                spacing = _HATCH * self.scene.pen
                lines = hatch_lines(item.shape, item.hatch, spacing, item.within)
                return [self._path(self._drawn(lines, motion), FINE, item.id)]
            case Words():
                return [self._words(item, motion)]
            case Dimension():
                runs = _dimension_runs(item)
                return [self._path(self._drawn(runs, motion), BOLD, item.id)]
            case Mark():
                return self._mark(item, motion)

    def _group(self, group: Group, motion: Motion) -> list[str]:
        known = self._id(group.id)
        for name, text in (
            ("href", group.link),
            ("data-layer", group.layer),
            ("data-edge", group.edge),
        ):
            if text:
                known += attribute(name, text)
        inner = motion.after(group.motion)
        inside = [element("title", "", self.set(group.title))] if group.title else []
        for item in group.items:
            inside += self.written(item, inner)
        return nested("a" if group.link else "g", known, inside)

    def _line(self, line: Line, motion: Motion) -> str:
        drawn = self._drawn(line.runs, motion)
        shown = ""
        if line.opaque:
            shown = _PAPER
        elif line.emphasis:
            shown = attribute("class", line.emphasis.value)
        return self._path(f"{drawn} Z" if line.closed else drawn, line.pen, line.id, shown)

    def _path(self, drawn: str, pen: Pen, name: str, shown: str = "") -> str:
        width = dashes = ""
        if pen.width != 1.0:
            width = f' stroke-width="{pen.width * self.scene.pen:.4g}"'
        if pen.dashes:
            lengths = " ".join(f"{d * self.scene.pen:.2g}" for d in pen.dashes)
            dashes = f' stroke-dasharray="{lengths}"'
        return element("path", f'{self._id(name)} d="{drawn}"{width}{dashes}{shown}')

    def _words(self, words: Words, motion: Motion) -> str:
        ink = "currentColor" if self.scene.is_picture else "black"
        attributes = (
            f"{self._id(words.id)}{self._place('x', 'y', words.at, motion)}"
            f' font-family="sans-serif" font-size="{words.size:g}" fill="{ink}" stroke="none"'
        )
        if words.anchor is not Anchor.START:
            attributes += attribute("text-anchor", words.anchor.value)
        if words.bold:
            attributes += attribute("font-weight", "bold")
        return element("text", attributes, self.set(words.text))

    def _mark(self, mark: Mark, motion: Motion) -> list[str]:
        inside = []
        if mark.place is not None:
            inside.append(self._path(self._drawn([(mark.place, mark.at)], motion), FINE, ""))
        at, radius = motion(mark.at), mark.radius
        if mark.sign is Sign.DISC:
            place = self._place("cx", "cy", mark.at, motion)
            inside.append(element("circle", f'{place} r="{radius:g}"{_PAPER}'))
        else:
            peak, foot = at - 1.5j * radius, at + 1j * radius
            corners = (peak, foot + 1.5 * radius, foot - 1.5 * radius)
            drawn = f"{self._drawn([corners], Motion())} Z"
            inside.append(element("path", f' d="{drawn}"{_PAPER}'))
        letters = Words(str(mark.number), mark.at + 0.45j * radius, 1.25 * radius, Anchor.MIDDLE)
        inside.append(self._words(letters, motion))
        return nested("g", self._id(mark.id), inside)

    def _id(self, name: str) -> str:
        return attribute("id", self.prefix + name) if name else ""

    def _place(self, across: str, down: str, at: Point, motion: Motion) -> str:
        x, y = numbers(pairs(self._number), [at], self._number, motion).split(",")
        return f' {across}="{x}" {down}="{y}"'

    def _drawn(self, runs: Iterable[Run], motion: Motion) -> str:
        # Most curves of a pattern are straight; told so, a picture takes less room.
        data = PathData.of(runs, straightened=self.scene.is_picture)
        return data.relative(motion) if self.in_page else data.absolute(self._number, motion)

    @property
    def _number(self) -> str:
        return "%.2f" if self.scene.is_picture else "%.6f"


def _dimension_runs(item: Dimension) -> list[tuple[Point, Point]]:
    along = item.end - item.start
    tick = (unit(along) if along else 1) * 1j * item.tick
    ticks = [(end - tick, end + tick) for end in (item.start, item.end)]
    return [(item.start, item.end), *ticks]
