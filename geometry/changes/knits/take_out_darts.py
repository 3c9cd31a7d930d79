"""take_out_darts: make a block without darts for cloth that stretches."""

from collections.abc import Iterator

import numpy as np

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name, number
from trueup.geometry.changes.knits.other_kinds import made
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.bodice import bodice_pieces
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import find_edge_dart
from trueup.geometry.said import said
from trueup.geometry.units import Unit

_ARMHOLE, _SIDE, _HEM = "armhole", "side", "hem"
_PER_CENT_ALONG = 40
_SECOND = "side-ease"
_POINTS = (4, 3, 2, 1)
_PLACES, _TURNS = 64, 1.0


@kind("take-out-darts")
class TakeOutDarts(Change):
    """Make a bodice without darts, for a knit that takes up what they did.

    Darts that open at the waist and double-pointed ones are left unsewn, so the waist becomes wider
    by what they took in. Of the bust dart a share goes to the hem, where the front swings out, and
    a share to the armhole, where it is left as ease; the rest goes to the side, where it is cut
    away: the front becomes as long there as the back again. Any other dart is turned to the armhole
    of its piece and left there. Armholes, sides and hems are drawn fair.

    The armhole grows, so a sleeve set into it loses ease in its cap, and is refitted. A third to
    the hem, a third to the armhole and a third cut away is common practice, no source.
    """

    phrases = ("take out the darts",)

    dart: str = name("the bust dart, as piece.dart", "front.bust", of="dart")
    hem: float = number("how much of its angle goes to the hem", 0.34, low=0.0, high=1.0)
    armhole: float = number("how much of it is left in the armhole", 0.33, low=0.0, high=1.0)

    def __post_init__(self) -> None:
        if self.hem + self.armhole > 1:
            raise BadParameter("armhole", f"{self.armhole:g}", said("shares-over-one"))

    def carried_out(self, draft: Draft) -> Draft:
        find_edge_dart(draft, self.dart)
        names = [piece.name for piece in bodice_pieces(draft)]
        for full in [dart for each in names for dart in _at_waist(draft.piece(each))]:
            draft = made(draft, "release-dart", dart=full)
        draft = self._without_bust_dart(draft)
        for full in [dart for each in names for dart in _left(draft.piece(each))]:
            draft = _to_armhole(draft, full)
            draft = made(draft, "release-dart", dart=full)
        for each in names:
            draft = _calmed(draft, f"{each}.{_ARMHOLE}")
            draft = _calmed(draft, f"{each}.{_HEM}")
        piece = self.dart.partition(".")[0]
        return made(draft, "true-hem", piece=piece)

    def _without_bust_dart(self, draft: Draft) -> Draft:
        if self.hem:
            draft = made(draft, "dart-to-flare", dart=self.dart, share=self.hem)
        rest = 1 - self.hem
        if rest < 1e-9:
            return draft
        draft = _to_armhole(draft, self.dart)
        piece = self.dart.partition(".")[0]
        share = 1 - self.armhole / rest
        if share > 0.05:
            side = {"edge": f"{piece}.{_SIDE}", "at": _from_underarm(draft, piece, _SIDE)}
            if share > 0.95:
                draft = made(draft, "rotate-dart", dart=self.dart, **side)
            else:
                draft = made(draft, "split-dart", dart=self.dart, share=share, name=_SECOND, **side)
                draft = made(draft, "release-dart", dart=f"{piece}.{_SECOND}")
        draft = made(draft, "release-dart", dart=self.dart)
        return made(draft, "smooth-edge", edge=f"{piece}.{_SIDE}", points=0)

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        where = f" on the {self.side}" if self.side else ""
        hem, armhole = self.hem * 100, self.armhole * 100
        return (
            f"take out the darts, {hem:g}% of {self.dart} to the hem and {armhole:g}% to the "
            f"armhole{where}"
        )

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(
            f"{piece.name}.{dart}.intake"
            for piece in bodice_pieces(draft)
            for dart in piece.dart_names
        )

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        edges = (_ARMHOLE, _HEM)
        return tuple(f"{piece.name}.{edge}" for piece in bodice_pieces(draft) for edge in edges)


def _calmed(draft: Draft, full: str) -> Draft:
    """Return a draft with an edge drawn fair: with as few bends as can be, and then least moved.

    Raises DoesNotFit where no fair line runs through some of its points.
    """
    best: tuple[int, Draft] | None = None
    for points in _POINTS:
        try:
            drawn = made(draft, "smooth-edge", edge=full, points=points)
        except DoesNotFit:
            continue
        count = _bends(closed(drawn.edge(*full.split("."))).chain)
        if best is None or count < best[0]:
            best = count, drawn
    return best[1] if best else made(draft, "smooth-edge", edge=full)


def _bends(line: Chain) -> int:
    """Return in how many runs a line bends one way, what turns by less than a degree left out."""
    points = np.array(line.cut_at([line.length * k / _PLACES for k in range(_PLACES)]).flattened())
    heading = np.degrees(np.unwrap(np.angle(np.diff(points))))
    count, sense, low, high = 1, 0, heading[0], heading[0]
    for each in heading.tolist():
        low, high = min(low, each), max(high, each)
        if sense >= 0 and high - each > _TURNS:
            count, sense, low, high = count + (sense > 0), -1, each, each
        elif sense <= 0 and each - low > _TURNS:
            count, sense, low, high = count + (sense < 0), 1, each, each
    return count


def _at_waist(piece: Piece) -> Iterator[str]:
    darts = [dart.name for dart in piece.edge(_HEM).darts]
    return (f"{piece.name}.{dart}" for dart in (*darts, *(d.name for d in piece.inner_darts)))


def _left(piece: Piece) -> Iterator[str]:
    return (f"{piece.name}.{dart.name}" for edge in piece.edges for dart in edge.darts)


def _to_armhole(draft: Draft, full: str) -> Draft:
    piece, edge, _ = find_edge_dart(draft, full)
    if edge.name == _ARMHOLE:
        return draft
    at = _from_underarm(draft, piece.name, _ARMHOLE)
    return made(draft, "rotate-dart", dart=full, edge=f"{piece.name}.{_ARMHOLE}", at=at)


def _from_underarm(draft: Draft, piece: str, edge: str) -> str:
    line = draft.edge(piece, edge)
    corner = line.starts_at if edge == _SIDE else line.ends_at
    return f"{_PER_CENT_ALONG}% from {corner}"
