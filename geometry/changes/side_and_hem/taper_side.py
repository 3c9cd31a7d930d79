"""taper-side: take in or let out the side seam at the waist, the hip or the hem alone."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines import fade
from trueup.geometry.lines.points import Motion, unit
from trueup.geometry.pieces.bodice import BACK, BODICE, FRONT
from trueup.geometry.pieces.closed_line import ClosedLine, closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.hems.hem import HIP, WAIST
from trueup.geometry.redrawing.hems.hem_met import hem_met
from trueup.geometry.redrawing.move_corner import end_cut, evenly, start_carried, start_cut
from trueup.geometry.said import said
from trueup.geometry.tolerance import SHORTEST_LEFT

HEM = "hem"

_STEPS = 8


@kind("taper-side", version=2)
class TaperSide(ByAmount):
    """Take in the side seam at the waist, the hip or the hem alone; a negative amount lets it out.

    The line moves by the amount there, square to the centre, front and back alike unless one is
    named: so the whole garment becomes narrower by four times as much, by twice where it is one of
    them. It fades smoothly to nothing at the next level above and below: from the waist up to the
    underarm and down to the hip, from the hip up to the waist and down to the hem, from the hem up
    to the hip. Where a level is not there, it fades on to the next one.

    The side keeps its length, so a side seam that matched still matches: what the line grows by is
    cut off at the hem, what it loses is drawn on, and the hem meets it at the angle it had. Where
    the piece ends at the level, that is its hem. Darts in the side are closed meanwhile.
    """

    about = "side"
    fair = True
    leaves_cloth = True
    waist_on_top: ClassVar[bool] = True
    """Whether it knows a level that runs along the waist: there a side begins, and has no line."""

    phrases = ("take in the side", "let out the side")

    by: float = length("how far the side of each piece moves in", low=-300, high=300, zero=False)
    level: str = name(
        "where it moves as far",
        choices=(WAIST, HIP, HEM),
        says={level: f"at the {level}" for level in (WAIST, HIP, HEM)},
    )
    piece: str = name("what is taken in", BODICE, choices=(BODICE, FRONT, BACK), of="piece")

    def wanted(self, draft: Draft) -> float:
        for piece in self.pieces(draft):
            self._station(piece, closed(piece.edge("side")))
        return self.by

    def on(self, piece: Piece, by: float) -> Piece:
        old, line = piece.edge("side"), closed(piece.edge("side"))
        there, part = self._station(piece, line)
        above, below = _faded(line.chain.length, there, _others(piece, line, self.level))
        hem, step = piece.edge(HEM), _inward(piece) * by
        if there == below:
            hem = _cut_beside(hem, by, step)
            step = hem.start - old.end
        stations = [*_evenly(above, there), *_evenly(there, below), below]
        weight = _weight(piece, above, there, below)
        # Paper beyond a dart lies turned beside the closed line, and the centre with it.
        beside = line.motions[part].rotation * step
        drawn = line.opened(fade.shifted(line.chain.cut_at(stations), beside, weight))
        side = end_cut(drawn, drawn.length - old.length)
        turned = side.parts[-1].end_tangent / old.parts[-1].end_tangent
        heading = unit(piece.edge(HEM).parts[0].start_tangent * turned)
        if there == below and not _ends_at_level(piece):
            return piece.with_edges(side, hem_met(hem, side.end, heading))
        turn = heading / hem.parts[0].start_tangent
        motion = Motion(turn, side.end - turn * hem.start)
        return piece.with_edges(side, start_carried(hem, motion, side.end, evenly))

    def _station(self, piece: Piece, line: ClosedLine) -> tuple[float, int]:
        """Return how far along the closed side the line moves most, and in which of its parts."""
        if self.level == HEM:
            return line.chain.length, len(line.motions) - 1
        if not piece.has_level(self.level):
            reason = said("no-such-level", piece=piece.name, level=self.level)
            raise DoesNotFit(reason, said("lengthen-to-level"), piece=piece.name, edge=self.about)
        on_top = self.waist_on_top and piece.level(self.level).along not in (None, HEM)
        found = None if on_top else _at_level(piece, line, self.level)
        if found is None:
            reason = said("side-off-level", level=self.level)
            raise DoesNotFit(reason, said("another-level"), piece=piece.name, edge=self.about)
        return found

    def meant(self, draft: Draft) -> tuple[str, ...]:
        measure = HEM if self.level == HEM else f"{self.level}-width"
        return tuple(f"{piece.name}.{measure}" for piece in self.pieces(draft))


@kind("taper-side")
class FirstTaperSide(TaperSide):
    """Take in the side seam at a level: version 1, which took the waist of a skirt for its hem."""

    waist_on_top = False


def _at_level(piece: Piece, line: ClosedLine, level: str) -> tuple[float, int] | None:
    """Return where the closed side passes a level last, and in which of its parts; None nowhere.

    A level that runs along the hem is met at the end.
    """
    if not piece.has_level(level):
        return None
    wanted, side = piece.level(level), line.edge
    if wanted.along:
        return line.chain.length, len(side.parts) - 1
    starts = (0.0, *line.dart_stations)
    met = [
        (start + at, k)
        for k, (start, part) in enumerate(zip(starts, side.parts, strict=True))
        for at in part.crossings(complex(0.0, wanted.y), 1)
    ]
    met = [each for each in met if each[0] > SHORTEST_LEFT]
    if not met:
        return None
    station, part = met[-1]
    at_end = station > line.chain.length - SHORTEST_LEFT
    return (line.chain.length if at_end else station), part


def _others(piece: Piece, line: ClosedLine, level: str) -> list[float]:
    found = [_at_level(piece, line, each) for each in (WAIST, HIP) if each != level]
    return [each[0] for each in found if each]


def _faded(total: float, there: float, others: list[float]) -> tuple[float, float]:
    """Return between which lengths along the side it moves: the levels next to `there`."""
    beside = [0.0, *others, total]
    above = max(each for each in beside if each < there - SHORTEST_LEFT)
    return above, min((each for each in beside if each > there + SHORTEST_LEFT), default=total)


def _inward(piece: Piece) -> complex:
    """Return the direction square to the centre, from the side."""
    hem = piece.edge(HEM)
    return 1.0 if hem.end.real > hem.start.real else -1.0


def _cut_beside(hem: Edge, by: float, step: complex) -> Edge:
    """Return a hem cut along itself where it is so far in from the side, or drawn on to there."""
    first = hem.parts[0]
    if by < 0:
        return start_cut(hem, -abs(step) / abs(first.start_tangent.real))
    met = first.crossings(hem.start + step, 1j)
    return start_cut(hem, met[0] if met else first.length)


def _evenly(low: float, high: float) -> list[float]:
    step = (high - low) / _STEPS
    return [low + k * step for k in range(_STEPS)]


def _weight(piece: Piece, above: float, there: float, below: float) -> fade.Weight:
    """Return how the moving fades, with no slope where it is nought.

    It has none either where it is whole, so that the line runs straight down at a level of the
    body. Only a hem that hangs free turns with the side, as a batten does that is pushed at its
    end.
    """
    if there < below:
        return fade.swelling(above, there, below)
    return fade.rising(above, there) if _ends_at_level(piece) else _pushed(above, there)


def _ends_at_level(piece: Piece) -> bool:
    return any(level.along == HEM for level in piece.levels)


def _pushed(start: float, end: float) -> fade.Weight:
    """Return the weight s²(3-s)/2: 0 up to `start`, 1 at the end, as a batten held there bends.

    It has no slope where it starts and no bend where it ends.
    """

    def weight(at: float) -> tuple[float, float]:
        s = max(at - start, 0.0) / (end - start)
        return s * s * (3 - s) / 2, 1.5 * s * (2 - s) / (end - start)

    return weight
