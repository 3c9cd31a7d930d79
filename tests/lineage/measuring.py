"""Measuring a draft by hand: its points are read off and distances added up.

Neither the measures nor the walks nor the checks of the program are used, so that they can be held
against it. Lengths in mm.
"""

import math
from itertools import pairwise

from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece


def points(edge: Edge) -> list[list[complex]]:
    """Return many points along each curve of an edge."""
    return [curve for part in edge.parts for curve in curves(part)]


def curves(part: Chain) -> list[list[complex]]:
    return [
        [
            (1 - t) ** 3 * cubic.start
            + 3 * (1 - t) ** 2 * t * cubic.start_control
            + 3 * (1 - t) * t**2 * cubic.end_control
            + t**3 * cubic.end
            for t in (k / 64 for k in range(65))
        ]
        for cubic in part.cubics
    ]


def along(edge: Edge) -> float:
    """Return the sewn length of an edge, mm: the way from point to point, over its darts."""
    return sum(abs(b - a) for curve in points(edge) for a, b in pairwise(curve))


def ease(draft: Draft, seam: Seam) -> float:
    def run(edges: tuple[Run, ...]) -> float:
        return sum(along(draft.piece(each.piece).edge(each.edge)) for each in edges)

    return run(seam.side) - run(seam.mate)


def out_of_range(draft: Draft, give: float = 0.0) -> dict[str, float]:
    """Return the seams that walk outside what they are allowed, and how far, mm.

    `give` is added to the tolerance of each: by so much a length read here may be off.
    """
    found = {}
    for seam in draft.seams:
        low, high = seam.allowed.low, seam.allowed.high
        walked = [(ease(draft, seam), low, high)]
        if halves := cap_halves(draft, seam):
            # A set-in sleeve holds less in front than behind (common practice, no source); what is
            # gathered into each half is stated with it.
            bands = [(0.4 * low, 0.4 * high), (0.6 * low, high * 2 / 3)]
            if seam.sections:
                bands = [(each.allowed.low, each.allowed.high) for each in seam.sections]
            walked += [(mm, *band) for mm, band in zip(halves, bands, strict=True)]
        beyond = max(max(least - mm, mm - most) for mm, least, most in walked)
        if beyond > seam.allowed.tolerance + give:
            found[seam.name] = beyond
    return found


def cap_halves(draft: Draft, seam: Seam) -> tuple[float, float] | None:
    """Return the ease of the front and the back half of a cap, mm; None for any other seam."""
    if str(seam.side[0]) != "sleeve.cap" or len(seam.mate) != 2:
        return None
    sleeve = draft.piece("sleeve")
    whole = along(sleeve.edge("cap"))
    marks = [notch.at for notch in sleeve.notches if notch.name == "crown"]
    if not marks:
        return None
    (mark,) = marks
    far = mark.share * whole if mark.distance is None else mark.distance
    front = far if mark.corner == sleeve.edge("cap").starts_at else whole - far
    armholes = [along(draft.piece(run.piece).edge(run.edge)) for run in seam.mate]
    return front - armholes[0], whole - front - armholes[1]


def mouth_width(draft: Draft, piece: str, dart: str) -> float | None:
    """Return the distance between the two ends of a dart's legs, mm; None where it is not."""
    for edge in draft.piece(piece).edges:
        for index, each in enumerate(edge.darts):
            if each.name == dart:
                return abs(edge.parts[index + 1].start - edge.parts[index].end)
    for each in draft.piece(piece).inner_darts:
        if each.name == dart:
            return abs(each.right - each.left)
    return None


def width(piece: Piece, level: str) -> float:
    """Return how much cloth lies on the horizontal line of a level, mm.

    Not a number where the line meets a dart: a tape is laid across it as it is sewn.
    """
    (y,) = [each.y for each in piece.levels if each.name == level]
    assert y is not None
    for mouth in (mouth for edge in piece.edges for mouth in edge.mouths):
        heights = [p.imag for p in (mouth.first, mouth.second, mouth.tip, mouth.dart.apex)]
        if min(heights) <= y <= max(heights):
            return math.nan
    ring = [p for edge in piece.edges for curve in points(edge) for p in curve]
    crossings = sorted(
        a.real + (y - a.imag) / (b.imag - a.imag) * (b.real - a.real)
        for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
        if (a.imag < y) != (b.imag < y)
    )
    return sum(right - left for left, right in zip(crossings[::2], crossings[1::2], strict=True))


def read_off(draft: Draft, measure: str) -> float | None:
    """Return a measure read off a draft by its name, mm; None where the draft has no such thing.

    Not a number for a measure that is not read off here.
    """
    piece_name, _, what = measure.partition(".")
    if piece_name not in draft.piece_names:
        return None
    piece = draft.piece(piece_name)
    if what.endswith(".intake"):
        return mouth_width(draft, piece_name, what.removesuffix(".intake"))
    return _read_off_piece(piece, what)


def _read_off_piece(piece: Piece, what: str) -> float:
    if what == "neck-depth":
        neck = piece.edge("neck")
        return neck.start.imag - neck.end.imag
    if what == "cap-height":
        cap = piece.edge("cap")
        return cap.start.imag - min(p.imag for curve in points(cap) for p in curve)
    if what == "chest-width":
        return width(piece, "chest")
    if what not in piece.edge_names:
        return math.nan
    return along(piece.edge(what))
