"""Whether the words of a picture can be read: none beyond the page, none over another."""

from functools import lru_cache
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import reportlab
from PIL import ImageFont

SVG = "{http://www.w3.org/2000/svg}"
FONTS = Path(reportlab.__file__).parent / "fonts"
BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}

Box = tuple[float, float, float, float]


@lru_cache
def face(bold: bool) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(FONTS / ("VeraBd.ttf" if bold else "Vera.ttf")), 100)


def word_boxes(root: ElementTree.Element) -> list[tuple[str, Box]]:
    """Return each text of a picture with its box: left, top, right, bottom."""
    found = []
    for each in root.iter(f"{SVG}text"):
        size = float(each.attrib["font-size"])
        text = each.text or ""
        width = face("font-weight" in each.attrib).getlength(text) / 100 * size
        x, y = float(each.attrib["x"]), float(each.attrib["y"])
        left = x - width * BEFORE[each.attrib.get("text-anchor", "start")]
        found.append((text, (left, y - 0.75 * size, left + width, y + 0.2 * size)))
    return found


def assert_legible(root: ElementTree.Element) -> None:
    _, _, width, height = (float(n) for n in root.attrib["viewBox"].split())
    boxes = word_boxes(root)
    assert boxes
    for text, (left, top, right, bottom) in boxes:
        assert left >= 0, text
        assert top >= 0, text
        assert right <= width, text
        assert bottom <= height, text
    for (one, a), (other, b) in combinations(boxes, 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        assert apart, (one, other)
