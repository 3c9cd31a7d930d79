"""Write a draft as a drawing that says of itself what its paths cannot: it comes back the same."""

import json
from xml.etree import ElementTree
from xml.sax.saxutils import escape

from trueup.geometry.lines.points import coordinates
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.drawings.seam_drawing import draw_seams, number, page
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.page import DESCRIPTION

_MARGIN = 10.0
_GAP = 30.0


def description_of(draft: Draft) -> str:
    """Return all that there is to say of a draft as one text."""
    return json.dumps(draft_form(draft), separators=(",", ":"), allow_nan=False)


def describing(svg: str, draft: Draft) -> str:
    """Return the text of an SVG drawing of a draft with all that its paths do not say put in."""
    says = description_of(draft)
    # A line for each piece and seam, so that a comparison of two versions can be read.
    says = says.replace('{"name":', '\n{"name":')
    start = svg.index(">", svg.index("<svg")) + 1
    told = f'\n  <metadata id="{DESCRIPTION}">{escape(says)}</metadata>'
    return svg[:start] + told + svg[start:]


def drawing_of(draft: Draft, title: str) -> bytes:
    """Return the drawing in which a traced block is kept, its pieces side by side."""
    bounds = []
    for piece in draft.pieces:
        points = coordinates(piece.outline_points)
        bounds.append((points.min(axis=0), points.max(axis=0)))
    width = sum(high[0] - low[0] + _GAP for low, high in bounds) - _GAP + 2 * _MARGIN
    height = max((high[1] - low[1] for low, high in bounds), default=0.0) + 2 * _MARGIN
    root = page(float(width), float(height), title)
    right = _MARGIN
    for piece, (low, high) in zip(draft.pieces, bounds, strict=True):
        place = f"translate({number(right - low[0])} {number(_MARGIN - low[1])})"
        group = ElementTree.SubElement(root, "g", {"id": piece.name, "transform": place})
        draw_seams(group, piece)
        right += float(high[0] - low[0]) + _GAP
    ElementTree.indent(root)
    text = describing(ElementTree.tostring(root, encoding="unicode"), draft)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'.encode()
