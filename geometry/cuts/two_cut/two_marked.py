"""Marks that lie beyond the two lines of a cut: they go along with the cloth they lie on."""

from collections.abc import Iterator
from dataclasses import replace

from trueup.geometry.cuts.two_cut.two_lines import Parting, Ring
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion
from trueup.geometry.marking.on_parts import marks_of_part
from trueup.geometry.marking.places import nearest_edge, runs_of, seen_from
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark
from trueup.geometry.pieces.piece import Piece


def marks_beyond(parting: Parting, part: Piece) -> Iterator[InnerMark]:
    """Yield the marks that lie beyond the lines, measured from the nearest line of the part."""
    if not parting.whole.marks:
        return
    stretches = (
        (parting.upper[0], parting.lower[2], parting.seams[0], parting.front_line.line),
        (parting.upper[2], parting.lower[0], parting.seams[1], parting.cut.line),
    )
    for index, (above, below, seam, line) in enumerate(stretches):
        across = Edge(line, "", "", (Chain.line(above.end, below.start),))
        if index:
            across = Edge(line, "", "", (Chain.line(below.end, above.start),))
        ring = _closed((above, across, below, seam) if not index else (above, seam, below, across))
        stretch = Piece(part.name, ring)
        for mark in marks_of_part(parting.whole, stretch):
            yield _laid(part, stretch, mark, parting.motions[index])


def _closed(ring: Ring) -> Ring:
    """Return edges as a ring of one piece, corners named after where they stand."""
    names = [f"corner-{k}" for k in range(len(ring))]
    return tuple(
        replace(edge, starts_at=names[k], ends_at=names[(k + 1) % len(ring)])
        for k, edge in enumerate(ring)
    )


def _laid(part: Piece, stretch: Piece, mark: InnerMark, motion: Motion) -> InnerMark:
    runs = tuple(tuple(map(motion, run)) for run in runs_of(stretch, mark))
    outer = tuple(edge.name for edge in (part.edges[0], part.edges[2], part.edges[4]))
    place = nearest_edge(part, runs[0][0], outer)
    return replace(mark, place=place, runs=seen_from(part, place, runs))
