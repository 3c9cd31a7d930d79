"""shape-leg: taper or flare the leg of trousers, evenly about its crease."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length
from trueup.geometry.lines import fade
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.drawn_on import reversed_edge
from trueup.geometry.redrawing.hems.hem import at_hem, drawn_between
from trueup.geometry.redrawing.hems.leg import (
    HEM,
    HIP_LEVEL,
    INSEAM,
    KNEE_LEVEL,
    SIDE,
    leg_pieces,
    outward,
    station_at,
)
from trueup.geometry.redrawing.move_corner import end_cut, end_motion, start_motion

_STEPS = 8
_ENDS = 4
"""Front and back each have two seams at the hem, which share what it gains."""


@kind("shape-leg")
class ShapeLeg(ByAmount):
    """Widen the leg of trousers at its hem by an amount all round; a negative amount tapers it.

    Each of the two seams of front and back moves by a quarter of it, so the crease stays the middle
    of the leg. `knee` says by how much the leg becomes wider at its knee: as much as at the hem,
    and the whole leg is wider; left out, it keeps its width there. From the knee down the seams
    move evenly; above it the moving fades to nothing at the hip and at the fork. Seams keep their
    lengths, so they still match, and the hem its angles to them.
    """

    about = HEM
    fair = True
    leaves_cloth = True
    phrases = ("widen the leg at the hem", "taper the leg at the hem")

    by: float = length(
        "how much wider the leg becomes round its hem", low=-400, high=1200, zero=False
    )
    knee: float = length("how much wider it becomes round its knee", 0.0, low=-300, high=600)

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return leg_pieces(draft)

    def on(self, piece: Piece, by: float) -> Piece:
        at_knee = self.knee * by / self.by
        out = outward(piece)
        side, inseam = piece.edge(SIDE), piece.edge(INSEAM)
        hip = station_at(piece, closed(side), HIP_LEVEL)
        wider = _shaped(piece, side, out, hip, at_knee / _ENDS, by / _ENDS)
        turned = reversed_edge(inseam)
        within = reversed_edge(_shaped(piece, turned, -out, 0.0, at_knee / _ENDS, by / _ENDS))
        motions = end_motion(side, wider), start_motion(inseam, within)
        hem = drawn_between(piece.edge(HEM), *motions, wider.end, within.start)
        return at_hem(piece.with_edges(wider, hem, within))

    def meant(self, draft: Draft) -> tuple[str, ...]:
        levels = (HEM, *((f"{KNEE_LEVEL}-width",) if self.knee else ()))
        return tuple(f"{piece.name}.{level}" for piece in self.pieces(draft) for level in levels)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{piece.name}.{KNEE_LEVEL}-width" for piece in self.pieces(draft))


def _shaped(
    piece: Piece, edge: Edge, out: complex, above: float, at_knee: float, at_hem: float
) -> Edge:
    """Return a seam, from its top down, moved out at knee and hem and as long as it was."""
    line = closed(edge)
    knee, total = station_at(piece, line, KNEE_LEVEL), line.chain.length
    cuts = [above + (knee - above) * k / _STEPS for k in range(_STEPS + 1)]
    chain: Chain = line.chain.cut_at([each for each in cuts if each > 0])
    weight = _to_knee_and_hem(above, knee, total, at_knee, at_hem)
    moved = line.opened(fade.shifted(chain, out, weight))
    return end_cut(moved, moved.length - edge.length)


def _to_knee_and_hem(
    above: float, knee: float, total: float, at_knee: float, at_hem: float
) -> fade.Weight:
    """Return the moving, mm: none up to `above`, straight on from the knee to the hem."""
    slope = (at_hem - at_knee) / (total - knee)
    span = knee - above

    def weight(at: float) -> tuple[float, float]:
        if at <= above:
            return 0.0, 0.0
        if at >= knee:
            return at_knee + slope * (at - knee), slope
        s = (at - above) / span
        value = at_knee * s * s * (3 - 2 * s) + slope * span * s * s * (s - 1)
        return value, at_knee * 6 * s * (1 - s) / span + slope * s * (3 * s - 2)

    return weight
