"""smooth-edge: draw an edge fair between its ends."""

import math
from collections.abc import Iterator
from functools import partial

import shapely

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join, smooth_line
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.measuring.fairness import fairness_findings
from trueup.geometry.measuring.forms import line_of
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.between_ends import drawn_between_ends, is_straight
from trueup.geometry.said import said

_MOST_POINTS = 12
_DENSELY = 0.02


@kind("smooth-edge")
class SmoothEdge(Change):
    """Draw an edge fair between its ends: waves, dents and corners on it go, its course stays.

    The ends stay, with the directions in which the line leaves them, so it still runs on smoothly
    across the seams there. It is drawn through as few points of the old line as keep it `within` a
    distance of that, evenly spread and no more than 12: the larger the distance, the calmer the
    line. Darts in the edge are closed while it is drawn, so a kink where a dart is closed goes as
    well; they keep apex and angle and open on the new line.

    What still bends back and forth or too tightly within the distance is refused with the one it
    takes. A straight edge stays as it is.
    """

    phrases = ("smooth the edge",)

    edge: str = name("full name of the edge, such as front.armhole", of="edge")
    within: float = length("how far the line may move", 2.0, low=0.1, high=50, zero=False)

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge_name = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        if is_straight(piece.edge(edge_name)) and piece.fold != edge_name:
            return draft
        needed: list[float] = []
        for moved, changed in self._drawn(piece, edge_name):
            if any(found.edge == edge_name for found in fairness_findings(changed)):
                continue
            if moved <= self.within:
                return draft.with_pieces(changed)
            needed.append(moved)
        if not needed:
            raise DoesNotFit(said("no-fair-line"), said("redraw-by-hand"))
        # Rounded up, so that what is told is enough.
        least = math.ceil(min(needed) * 10) / 10
        raise DoesNotFit(said("fair-line-moves", by=least), said("allow-it", by=least))

    def _drawn(self, piece: Piece, edge: str) -> Iterator[tuple[float, Piece]]:
        """Yield how far the line moves and the piece with it, through more and more points."""
        refusal: DoesNotFit | None = None
        old = closed(piece.edge(edge)).chain
        drawn = 0
        for count in range(_MOST_POINTS + 1):
            new = _through(old, count)
            try:
                changed = drawn_between_ends(piece, edge, partial(_instead, new))
            except DoesNotFit as refused:
                refusal = refused
                continue
            drawn += 1
            yield _apart(old, new), changed
        if refusal and not drawn:
            raise refusal

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (self.edge,)

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (line_of(self.edge),)


def _instead(new: Chain, _: Chain) -> Chain:
    return new


def _through(line: Chain, count: int) -> Chain:
    """Return the smooth line between the ends of a line through so many of its points."""
    if not count:
        return smooth_join(line.start, line.start_tangent, line.end, line.end_tangent)
    step = line.length / (count + 1)
    points = [line.point_at(k * step) for k in range(1, count + 1)]
    return smooth_line([line.start, *points, line.end], line.start_tangent, line.end_tangent)


def _apart(old: Chain, new: Chain) -> float:
    """Return how far two lines lie apart at most, mm."""
    one, other = polyline(old.flattened()), polyline(new.flattened())
    return float(shapely.hausdorff_distance(one, other, densify=_DENSELY))
