"""How large an SVG drawing is on paper: the way from its units to mm, and how that was known.

Source: W3C, SVG 1.1 (Second Edition), 7.10 units and 7.8 preserveAspectRatio; W3C, CSS Values and
Units Module Level 3: one px is 1/96 in.
"""

import re
from dataclasses import dataclass
from xml.etree import ElementTree

from trueup.lineage.drawings.safe_svg import NUMBER
from trueup.lineage.drawings.shapes.affine import Affine
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import FARTHEST

PX = 25.4 / 96
"""mm of one px of the standard."""

_MM = {
    "mm": 1.0,
    "cm": 10.0,
    "in": 25.4,
    "pt": 25.4 / 72,
    "pc": 25.4 / 6,
    "q": 0.25,
    "px": PX,
    "": PX,
}
_SIZE = re.compile(rf"({NUMBER})\s*([a-zA-Z]*|%)")
_FOUR = re.compile(rf"\s*({NUMBER})[\s,]+({NUMBER})[\s,]+({NUMBER})[\s,]+({NUMBER})\s*")
_ALIGNED = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
_FAR = FARTHEST * 1000


@dataclass(frozen=True)
class PageSize:
    """The way from the units of a drawing to mm, in words how it was known, and whether stated."""

    way: Affine
    says: str
    is_sized: bool


def page_size(root: ElementTree.Element, place: str) -> PageSize:
    """Return how large a drawing is; raises BadRecord where that is told in no length."""
    written = [root.get(word, "").strip() for word in ("width", "height")]
    width, height = (_length(text, place) for text in written)
    box = view_box(root, place)
    units = {unit for text in written if (unit := _unit_of(text)) is not None}
    in_px = not units or units <= {"px", ""}
    if box is None:
        says = "it states no viewBox; its units are px, 1/96 in by the standard"
        return PageSize(Affine(PX, 0.0, 0.0, PX), says, False)
    if width is None and height is None:
        width, height = box[2] * PX, box[3] * PX
    elif width is None or height is None:
        width, height = (
            width if width is not None else (height or 0.0) * box[2] / box[3],
            height if height is not None else (width or 0.0) * box[3] / box[2],
        )
    way = fitted(box, width or 0.0, height or 0.0, root.get("preserveAspectRatio", ""))
    if in_px:
        says = "it states its size in px, 1/96 in by the standard"
        if not units:
            says = "it states no size on paper; its units are taken for px, 1/96 in by the standard"
        return PageSize(way, says, False)
    return PageSize(way, f"it states its size on paper, {written[0]} by {written[1]}", True)


def fitted(
    box: tuple[float, float, float, float], width: float, height: float, kept: str
) -> Affine:
    """Return the way that fits a viewBox into a width and a height, mm, its proportions `kept`."""
    left, top, wide, high = box
    across, down = width / wide, height / high
    align, *more = [*kept.split(), "xMidYMid"] if not kept.strip() else kept.split()
    if align == "none":
        return Affine(across, 0.0, 0.0, down, -left * across, -top * down)
    scale = max(across, down) if more and more[0] == "slice" else min(across, down)
    right = _ALIGNED.get(align[1:4], 0.5) * (width - scale * wide)
    below = _ALIGNED.get(align[5:8], 0.5) * (height - scale * high)
    return Affine(scale, 0.0, 0.0, scale, right - left * scale, below - top * scale)


def view_box(element: ElementTree.Element, place: str) -> tuple[float, float, float, float] | None:
    """Return the viewBox of an element, None where it has none; raises BadRecord for no page."""
    text = element.get("viewBox")
    if text is None:
        return None
    found = _FOUR.fullmatch(text)
    if not found:
        raise BadRecord(place, f'its viewBox "{text[:40]}" is not four numbers')
    left, top, wide, high = (float(number) for number in found.groups())
    if not (0 < wide <= _FAR and 0 < high <= _FAR and max(abs(left), abs(top)) <= _FAR):
        raise BadRecord(place, "its viewBox is no page")
    return left, top, wide, high


def in_units(text: str | None, place: str, default: float = 0.0) -> float:
    """Return a length written on an element, in units of the drawing; raises BadRecord."""
    mm = _length((text or "").strip(), place)
    return default if mm is None else mm / PX


def _unit_of(text: str) -> str | None:
    found = _SIZE.fullmatch(text)
    return None if not found or found[2] == "%" else found[2].lower()


def _length(text: str, place: str) -> float | None:
    """Return a length in mm, None where none is stated."""
    if not text or text == "auto" or text.endswith("%"):
        return None
    found = _SIZE.fullmatch(text)
    unit = _MM.get(found[2].lower()) if found else None
    if not found or unit is None:
        raise BadRecord(
            place, f'it is "{text[:40]}" large, which is no length; give it in mm, cm, in, pt or px'
        )
    mm = float(found[1]) * unit
    if not -_FAR <= mm <= _FAR:
        raise BadRecord(place, f'it is "{text[:40]}" large, which is beyond any paper')
    return mm
