"""deepen-crotch: lengthen or shorten the rise of trousers between hip and crotch."""

from dataclasses import replace

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Grainline, Piece
from trueup.geometry.redrawing.hems.leg import (
    CROTCH,
    CROTCH_LEVEL,
    HEM,
    HIP_LEVEL,
    INSEAM,
    SIDE,
    leg_pieces,
    moved_edge,
    stretched_between,
)
from trueup.geometry.redrawing.move_corner import meeting
from trueup.geometry.said import said

_STEPS = 8
_MOST_SHORTENED = 0.6
"""So much of what lies between hip and crotch can be taken out before the lines fold over."""


@kind("deepen-crotch")
class DeepenCrotch(ByAmount):
    """Lengthen the rise of trousers: the crotch lies lower below the waist by the amount.

    The leg moves down as it is, with fork, inseam, knee and hem, so the inside leg keeps its
    length. Sides and crotch are drawn longer between hip and crotch, front and back alike, so that
    sides and inseams still match. A negative amount shortens the rise. Whatever lies above the hip
    stays.
    """

    about = CROTCH
    fair = True
    leaves_cloth = True
    phrases = ("deepen the crotch", "raise the crotch")

    by: float = length("how much lower the crotch lies", low=-150, high=300, zero=False)

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return leg_pieces(draft)

    def on(self, piece: Piece, by: float) -> Piece:
        hip, crotch = piece.level(HIP_LEVEL).y, piece.level(CROTCH_LEVEL).y
        if by < -(crotch - hip) * _MOST_SHORTENED:
            reason = said("crotch-above-hip", between=crotch - hip)
            raise DoesNotFit(reason, said("take-off-less"), piece=piece.name, edge=CROTCH)
        lower = Motion(shift=complex(0.0, by))
        hem, inseam = moved_edge(piece.edge(HEM), lower), moved_edge(piece.edge(INSEAM), lower)
        side, old = closed(piece.edge(SIDE)), closed(piece.edge(CROTCH))
        longer, deeper = (_longer(line.chain, hip, crotch, by) for line in (side, old))
        changed = piece.with_edges(
            meeting(side.opened(longer), side.edge.start, hem.start),
            hem,
            inseam,
            meeting(old.opened(deeper), inseam.end, old.edge.end),
        )
        return _marks_lowered(changed, hip, by)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{piece.name}.fork-depth" for piece in self.pieces(draft))

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        legs = self.pieces(draft)
        return tuple(f"{piece.name}.{edge}" for piece in legs for edge in (CROTCH, SIDE))


def _longer(chain: Chain, hip: float, crotch: float, by: float) -> Chain:
    levels = [hip + (crotch - hip) * k / _STEPS for k in range(_STEPS + 1)]
    stations = [at for y in levels for at in chain.crossings(complex(0.0, y), 1)]
    return stretched_between(chain.cut_at(sorted(stations)), hip, crotch, by)


def _marks_lowered(piece: Piece, hip: float, by: float) -> Piece:
    """Return a leg whose levels and grainline below the hip lie lower."""
    levels = tuple(
        replace(level, y=level.y + by) if level.y > hip else level for level in piece.levels
    )
    grain = piece.grainline
    if grain and grain.end.imag > hip:
        grain = Grainline(grain.start, grain.end + complex(0.0, by))
    return replace(piece, levels=levels, grainline=grain)
