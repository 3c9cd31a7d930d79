"""Reading a draft by its control points alone: curves sampled with numpy, darts closed by hand.

Nothing of the program's measuring is used, so that it can be held against it. Lengths in mm.
"""

import numpy as np
from numpy.typing import NDArray

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


def edge_of(draft: Draft, name: str) -> Edge | None:
    piece_name, _, edge = name.partition(".")
    piece = piece_of(draft, piece_name)
    return next((each for each in piece.edges if each.name == edge), None) if piece else None


def dart_of(draft: Draft, name: str) -> tuple[complex, complex, complex | None, complex, complex]:
    """Return first and second mouth point, pivot (None inside a piece), tip and lower tip."""
    piece_name, _, dart_name = name.partition(".")
    piece = piece_of(draft, piece_name)
    for edge in piece.edges if piece else ():
        parts = sampled(edge)
        for dart, before, after in zip(edge.darts, parts, parts[1:], strict=False):
            if dart.name == dart_name:
                first, second = complex(before[-1]), complex(after[0])
                middle = (first + second) / 2
                reach = middle - dart.apex
                tip = dart.apex + reach / abs(reach) * dart.setback if reach else dart.apex
                return first, second, dart.apex, tip, tip
    for inner in piece.inner_darts if piece else ():
        if inner.name == dart_name:
            return inner.left, inner.right, None, inner.upper, inner.lower
    raise LookupError(name)
