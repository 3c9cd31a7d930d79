"""A draft as a maker draws it in an editor of vector drawings: one outline a piece, and its marks.

Darts are notches in the outline; grain, levels and notches are lines with labels of their own.
"""

import cmath
import math
from collections.abc import Mapping

from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece

GAP = 40.0


def drawn(draft: Draft, digits: int = 6, turned: Mapping[str, int] | None = None) -> bytes:
    """Return the drawing, in mm; `turned` are degrees by which pieces lie, clockwise on paper."""
    groups, right = [], 30.0
    for piece in draft.pieces:
        degrees = (turned or {}).get(piece.name, 0)
        turn = cmath.rect(1.0, math.radians(degrees))
        points = [turn * point for point in piece.outline_points]
        left, far = min(p.real for p in points), max(p.real for p in points)
        top = min(p.imag for p in points)
        place = f"translate({right - left:.{digits}f},{30 - top:.{digits}f}) rotate({degrees})"
        groups.append(
            f'<g inkscape:label="{piece.name.title()}" transform="{place}">'
            f"{''.join(_lines(piece, digits))}</g>"
        )
        right += far - left + GAP
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="1600mm" height="1000mm" '
        'viewBox="0 0 1600 1000" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape">'
        f'<g style="fill:none;stroke:#000">{"".join(groups)}</g></svg>'
    ).encode()


def _lines(piece: Piece, digits: int):
    def at(point):
        return f"{point.real:.{digits}f},{point.imag:.{digits}f}"

    curves = [c for edge in piece.edges for c in edge.outline.cubics]
    said = [f"M {at(curves[0].start)}"]
    for c in curves:
        said.append(
            f"L {at(c.end)}"
            if c.is_straight
            else f"C {at(c.start_control)} {at(c.end_control)} {at(c.end)}"
        )
    yield f'<path d="{" ".join(said)} z"/>'
    if piece.grainline:
        ends = at(piece.grainline.start), at(piece.grainline.end)
        yield f'<path id="{piece.name}-grain" d="M {ends[0]} L {ends[1]}"/>'
    for notch in piece.notches:
        edge = piece.edge(notch.edge)
        point, way = edge.place_at(notch.at.along(edge))
        inwards = way * piece.inward * 5
        label = f'inkscape:label="notch {notch.name}"'
        yield f'<path {label} d="M {at(point)} L {at(point + inwards)}"/>'
    low, high = min(p.real for p in piece.outline_points), max(p.real for p in piece.outline_points)
    for level in piece.levels:
        if level.along is None:
            ends = at(complex(low, level.y)), at(complex(high, level.y))
            yield f'<path inkscape:label="{level.name}" d="M {ends[0]} L {ends[1]}"/>'
