"""How much cloth is left between the lines of a piece: dart to edge, dart to dart, edge to edge."""

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from trueup.geometry.limits import LARGEST_LENGTH
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.measuring.finding import Finding, Place, Severity
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import said
from trueup.geometry.tolerance import CLOTH_LEFT, SAME_POINT, WORSE


class Gap(NamedTuple):
    """The least cloth, mm, beside a dart or else an edge, and the other line in words."""

    left: float
    line: str
    is_dart: bool
    other: str

    @property
    def dart(self) -> str | None:
        """Return the dart that is one of the two lines, if one is."""
        return self.line if self.is_dart else None

    def own(self, piece: Piece) -> str:
        """Return the line itself in words."""
        return _dart(piece, self.line) if self.is_dart else _edge(piece, self.line)


def cloth_findings(piece: Piece) -> Iterator[Finding]:
    """Yield where a dart or an edge of a piece leaves too little cloth up to the next line."""
    for gap in gaps(piece):
        if gap.left < CLOTH_LEFT:
            lines = {"place": gap.own(piece), "other": gap.other}
            yield Finding(
                "cloth-left" if gap.is_dart else "narrow",
                Severity.WARNING,
                piece.name,
                gap.line,
                gap.left,
                CLOTH_LEFT,
                LARGEST_LENGTH,
                said("cloth-left", measured=gap.left, allowed=CLOTH_LEFT, **lines),
                _hangs_on(piece, gap),
            )


def narrowed(before: Piece, after: Piece) -> Gap | None:
    """Return the narrowest gap that a change left too narrow; None where it left none."""
    was = {(gap.line, gap.is_dart): gap.left for gap in gaps(before)}
    narrow = [
        gap
        for gap in gaps(after)
        if gap.left < min(CLOTH_LEFT, was.get((gap.line, gap.is_dart), LARGEST_LENGTH) - WORSE)
    ]
    return min(narrow, default=None)


@lru_cache(maxsize=512)
def gaps(piece: Piece) -> tuple[Gap, ...]:
    """Return the least cloth beside each dart and each edge of a piece.

    Lines that meet are left out: neighbours do, and others are a finding of their own.
    """
    return tuple(_gaps(piece))


def _gaps(piece: Piece) -> Iterator[Gap]:
    darts, edges = dict(_darts(piece)), {edge.name: _line(edge) for edge in piece.edges}
    home = {dart.name: edge.name for edge in piece.edges for dart in edge.darts}
    for name, line in darts.items():
        others = {_dart(piece, n): each for n, each in darts.items() if n != name}
        others |= {_edge(piece, n): each for n, each in edges.items() if n != home.get(name)}
        if gap := _least(name, line, others, is_dart=True):
            yield gap
    for edge in piece.edges:
        near = {each.name for each in (*piece.neighbours(edge.name), edge)}
        others = {_edge(piece, n): each for n, each in edges.items() if n not in near}
        if gap := _least(edge.name, edges[edge.name], others, is_dart=False):
            yield gap


def _darts(piece: Piece) -> Iterator[tuple[str, BaseGeometry]]:
    for edge in piece.edges:
        for mouth in edge.mouths:
            yield mouth.dart.name, polyline((mouth.first, mouth.tip, mouth.second))
    for dart in piece.inner_darts:
        yield dart.name, polygon((dart.upper, dart.right, dart.lower, dart.left))


def _line(edge: Edge) -> BaseGeometry:
    return shapely.multilinestrings([polyline(part.flattened()) for part in edge.parts])


def _least(
    name: str, line: BaseGeometry, others: dict[str, BaseGeometry], *, is_dart: bool
) -> Gap | None:
    if not others:
        return None
    apart = shapely.distance(line, list(others.values()))
    apart[apart < SAME_POINT] = LARGEST_LENGTH
    least = int(np.argmin(apart))
    return Gap(float(apart[least]), name, is_dart, list(others)[least])


def _dart(piece: Piece, name: str) -> str:
    return f"the dart {piece.name}.{name}"


def _edge(piece: Piece, name: str) -> str:
    return f"{piece.name}.{name}"


def _hangs_on(piece: Piece, gap: Gap) -> tuple[Place, ...]:
    """Return the edge, or the one the dart opens on; all edges for a dart inside the piece."""
    homes = [e.name for e in piece.edges if gap.line in {dart.name for dart in e.darts}]
    own = homes if gap.is_dart else [gap.line]
    return tuple((piece.name, edge) for edge in own or piece.edge_names)
