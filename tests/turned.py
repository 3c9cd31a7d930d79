"""Pieces moved bodily, for tests of what must not depend on where a piece lies."""

from dataclasses import replace

from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.piece import Grainline, Piece


def turned_piece(piece: Piece, motion: Motion, *, grain: bool = True) -> Piece:
    """Return a piece without inner darts after a rigid motion; its grainline only if `grain`."""
    assert not piece.inner_darts
    edges = [
        replace(
            edge,
            parts=tuple(part.moved(motion) for part in edge.parts),
            darts=tuple(replace(dart, apex=motion(dart.apex)) for dart in edge.darts),
        )
        for edge in piece.edges
    ]
    edges = [
        replace(edge, parts=(*edge.parts[:-1], edge.parts[-1].ending_at(after.start)))
        for edge, after in zip(edges, (*edges[1:], edges[0]), strict=True)
    ]
    line = piece.grainline
    if line and grain:
        line = Grainline(motion(line.start), motion(line.end))
    return replace(piece, edges=tuple(edges), grainline=line)
