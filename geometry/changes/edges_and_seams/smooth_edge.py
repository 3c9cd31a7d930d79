"""smooth-edge: draw an edge fair between its ends."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name, number
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join, smooth_line
from trueup.geometry.measuring.fairness import fairness_findings
from trueup.geometry.measuring.forms import line_of
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.between_ends import drawn_between_ends, is_straight
from trueup.geometry.said import said
from trueup.geometry.units import Unit

_MOST_POINTS = 12


@kind("smooth-edge")
class SmoothEdge(Change):
    """Draw an edge fair between its ends: waves, dents and corners on it go, its course stays.

    The ends stay, with the directions in which the line leaves them, so it still runs on smoothly
    across the seams there. Between them it is one smooth line through some points of the old one,
    evenly spread along it: the fewer, the calmer the line, and the further it may leave the old one
    (`--preview` and `compare` show how far). Darts in the edge are closed while it is drawn, so a
    kink where a dart is closed goes as well; they keep apex and angle and open on the new line.

    A line that would still bend back and forth or too tightly is refused with a number of points
    that makes it fair. A straight edge stays as it is; one on the fold of the cloth cannot be
    changed. At least 5 mm of cloth are left between the lines.
    """

    phrases = ("smooth the edge",)

    edge: str = name("full name of the edge, such as front.armhole", of="edge")
    points: float = number(
        "through how many of its points it is drawn", 4, low=0, high=_MOST_POINTS
    )

    def __post_init__(self) -> None:
        if self.points != int(self.points):
            raise BadParameter("points", f"{self.points:g}", said("whole-number"))

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge_name = draft.split_edge_name(self.edge)
        piece, count = draft.piece(piece_name), int(self.points)
        if is_straight(piece.edge(edge_name)) and piece.fold != edge_name:
            return draft
        changed = _drawn(piece, edge_name, count)
        if _is_fair(changed, edge_name):
            return draft.with_pieces(changed)
        reason = said("not-fair-through", points=str(count))
        for other in (*range(count - 1, -1, -1), *range(count + 1, _MOST_POINTS + 1)):
            if _would_be_fair(piece, edge_name, other):
                raise DoesNotFit(reason, said("fair-through", points=str(other)))
        raise DoesNotFit(reason, said("redraw-by-hand"))

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        where = f" on the {self.side}" if self.side else ""
        points = f"through {self.points:g} of its points" if self.points else "from end to end"
        return f"smooth the edge {self.edge} {points}{where}"

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (self.edge,)

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (line_of(self.edge),)


def _drawn(piece: Piece, edge: str, count: int) -> Piece:
    return drawn_between_ends(piece, edge, lambda line: _through(line, count))


def _would_be_fair(piece: Piece, edge: str, count: int) -> bool:
    try:
        return _is_fair(_drawn(piece, edge, count), edge)
    except DoesNotFit:
        return False


def _is_fair(piece: Piece, edge: str) -> bool:
    return not any(found.edge == edge for found in fairness_findings(piece))


def _through(line: Chain, count: int) -> Chain:
    """Return the smooth line between the ends of a line through so many of its points."""
    if not count:
        return smooth_join(line.start, line.start_tangent, line.end, line.end_tangent)
    step = line.length / (count + 1)
    points = [line.point_at(k * step) for k in range(1, count + 1)]
    return smooth_line([line.start, *points, line.end], line.start_tangent, line.end_tangent)
