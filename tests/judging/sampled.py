"""Reading a draft by its control points alone: curves sampled with numpy, darts closed by hand.

Nothing of the program's measuring is used, so that it can be held against it. Lengths in mm.
"""

import numpy as np
from numpy.typing import NDArray

from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece

Points = NDArray[np.complex128]

_T = np.linspace(0.0, 1.0, 81)
_BASIS = np.stack([(1 - _T) ** 3, 3 * (1 - _T) ** 2 * _T, 3 * (1 - _T) * _T**2, _T**3])
SHARES = np.linspace(0.0, 1.0, 401)[1:-1]


def sampled(edge: Edge) -> list[Points]:
    """Return points along each part of an edge."""
    return [
        (np.array([list(cubic) for cubic in part.cubics], dtype=np.complex128) @ _BASIS).ravel()
        for part in edge.parts
    ]


def length(edge: Edge) -> float:
    return float(sum(np.abs(np.diff(points)).sum() for points in sampled(edge)))


def laid_closed(edge: Edge, kept: str = "") -> Points:
    """Return the line of an edge with each dart closed by turning what lies beyond about its pivot.

    The part that begins the edge stays where it is, or the one that ends it at a corner to be kept.
    """
    parts = sampled(edge)
    line = parts[0]
    turn, shift = 1 + 0j, 0j
    for dart, before, after in zip(edge.darts, parts, parts[1:], strict=False):
        first, second = before[-1] - dart.apex, after[0] - dart.apex
        quarter = first / abs(first) / (second / abs(second))
        # About the pivot as it lies in the paper of the part before, which has been laid already.
        turn, shift = turn * quarter, shift + turn * (dart.apex - quarter * dart.apex)
        line = np.concatenate([line, turn * after + shift])
    return (line - shift) / turn if kept and edge.ends_at == kept else line


def way(edge: Edge) -> float:
    """Return how far apart the ends of a line lie with its darts closed."""
    line = laid_closed(edge)
    return float(abs(line[-1] - line[0]))


def depths(edge: Edge) -> NDArray[np.float64]:
    """Return how deep a line lies beside the way between its ends, at `SHARES` of the way."""
    line = laid_closed(edge)
    way = line[-1] - line[0]
    laid = (line - line[0]) / (way / abs(way))
    along, across = laid.real / abs(way), laid.imag
    found = []
    for share in SHARES:
        after = int(np.argmax(along >= share))
        low, high = max(after - 1, 0), after
        span = along[high] - along[low]
        part = (share - along[low]) / span if span > 0 else 0.0
        found.append(across[low] + part * (across[high] - across[low]))
    return np.array(found)


def piece_of(draft: Draft, name: str) -> Piece | None:
    """Return a piece; the one of both sides of the body where there is none of the side named."""
    shared = name.removeprefix("left-").removeprefix("right-")
    found = {piece.name: piece for piece in draft.pieces}
    return found.get(name) or found.get(shared)


def parts_of(draft: Draft, name: str) -> list[Piece]:
    """Return the pieces that one which is no more was cut into: they are called after it."""
    shared = name.removeprefix("left-").removeprefix("right-")
    drafted = {to.piece for to in draft.drafted}
    cut = [piece for piece in draft.pieces if piece.name not in drafted]
    named = [p for p in cut if p.name.startswith(f"{name}-")]
    both = [p for p in cut if p.name.startswith(f"{shared}-")]
    ends = {p.name.removeprefix(f"{name}-") for p in named}
    return [*named, *(p for p in both if p.name.removeprefix(f"{shared}-") not in ends)]


def edge_of(draft: Draft, name: str) -> Edge | None:
    piece_name, _, edge = name.partition(".")
    piece = piece_of(draft, piece_name)
    if piece is not None:
        return next((each for each in piece.edges if each.name == edge), None)
    return laid_together(parts_of(draft, piece_name), edge)


def laid_together(parts: list[Piece], name: str) -> Edge | None:
    """Return an edge that a seam of two parts interrupts as one with a dart in it."""
    found = [(part, e) for part in parts for e in part.edges if e.name == name]
    if len(found) < 2:
        return found[0][1] if found else None
    (part, first), (other, second) = sorted(
        found, key=lambda each: each[1].ends_at == found[0][1].starts_at, reverse=True
    )
    if first.ends_at != second.starts_at:
        (part, first), (other, second) = (other, second), (part, first)
    closing = _joint(part, other, first.ends_at)
    return Edge(
        name,
        first.starts_at,
        second.ends_at,
        (*first.parts, *second.parts),
        (*first.darts, closing, *second.darts),
    )


def _joint(part: Piece, other: Piece, corner: str) -> Dart:
    """Return the dart that closes by laying one seam line along the other where they begin."""
    ends = [_set_out(each, corner) for each in (part, other)]
    (one, heading), (two, towards) = ends
    turn = heading / towards
    if abs(turn - 1) > 1e-6:
        return Dart(corner, (one - turn * two) / (1 - turn))
    return Dart(corner, one + 50 * heading if abs(one - two) < 1e-6 else one + 1e5 * heading)


def _set_out(part: Piece, corner: str) -> tuple[complex, complex]:
    """Return where the seam of a part sets out from a corner, and in which direction."""
    line = part.edge(corner.rpartition("-")[0])
    if line.starts_at == corner:
        first = line.parts[0].cubics[0]
        ahead, start = first.start_control - first.start, first.start
    else:
        last = line.parts[-1].cubics[-1]
        ahead, start = last.end_control - last.end, last.end
    return start, ahead / abs(ahead)


DartRead = tuple[complex, complex, complex | None, complex, complex]

SEAM_OF = {"armhole": "bust", "waist": "waist", "hem": "waist"}
"""Which dart a seam begins in on an armhole or on the waist of a skirt, and ends in on a hem."""


def dart_of(draft: Draft, name: str) -> DartRead:
    """Return first and second mouth point, pivot (None inside a piece), tip and lower tip."""
    piece_name, _, dart_name = name.partition(".")
    piece = piece_of(draft, piece_name)
    if piece is None:
        return _dart_of_parts(parts_of(draft, piece_name), dart_name, name)
    return _dart_in(piece.edges, piece.inner_darts, dart_name, name)


def _dart_of_parts(parts: list[Piece], dart: str, name: str) -> DartRead:
    """Return a dart that lies in a part, or is the seam of two: their line begins or ends in it."""
    for part in parts:
        if any(each.name == dart for edge in part.edges for each in edge.darts):
            return _dart_in(part.edges, part.inner_darts, dart, name)
        if any(each.name == dart for each in part.inner_darts):
            return _dart_in(part.edges, part.inner_darts, dart, name)
    for edge_name, opens in SEAM_OF.items():
        laid = laid_together(parts, edge_name) if opens == dart else None
        joint = f"-{edge_name}"
        closing = [d.name for d in laid.darts if d.name.endswith(joint)] if laid else []
        if laid and closing:
            return _dart_in((laid,), (), closing[0], name)
    raise LookupError(name)


def _dart_in(
    edges: tuple[Edge, ...], inner_darts: tuple[InnerDart, ...], dart_name: str, name: str
) -> DartRead:
    for edge in edges:
        parts = sampled(edge)
        for dart, before, after in zip(edge.darts, parts, parts[1:], strict=False):
            if dart.name == dart_name:
                first, second = complex(before[-1]), complex(after[0])
                middle = (first + second) / 2
                reach = middle - dart.apex
                tip = dart.apex + reach / abs(reach) * dart.setback if reach else dart.apex
                return first, second, dart.apex, tip, tip
    for inner in inner_darts:
        if inner.name == dart_name:
            return inner.left, inner.right, None, inner.upper, inner.lower
    raise LookupError(name)
