"""redraw-edge: draw an edge by hand, in the frame of its own ends."""

import re
from itertools import pairwise
from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.parameters import name, text
from trueup.geometry.changes.sound import require_simple
from trueup.geometry.errors import BadLength, BadParameter, CannotChange
from trueup.geometry.limits import LONGEST_DRAWN
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import fair_line, smooth_line
from trueup.geometry.measuring.forms import line_of
from trueup.geometry.pieces.closed_line import reshaped
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.redrawing.largest_amount import or_furthest
from trueup.geometry.tolerance import SAME_POINT
from trueup.geometry.units import parse_length

_POINT = re.compile(
    r"[\s,;]*(?P<share>[0-9]+(?:\.[0-9]+)?)\s*%\s*:\s*(?P<depth>[^%:;]+?)\s*"
    r"(?=$|[\s,;]+[0-9.]+\s*%\s*:)"
)
_HOW_TO_WRITE = "write it like '25%:6mm 50%:14mm 80%:9mm'"
_MOST_POINTS = 24


@kind("redraw-edge", version=2, unfair=1)
class RedrawEdge(Change):
    """Draw an edge anew through points given in the frame of its own ends.

    Each point says how much of the straight way from the edge's start to its end, in the order of
    the outline, and how far from it square into the piece (a negative distance lies outwards):
    `25%:6mm 50%:14mm`. The line runs smoothly through them; it keeps its ends and the directions
    in which it leaves them, so it still runs on smoothly across the seams there, and it follows
    when a correction moves its ends. Where the edge was straight, and the first points or the last
    lie on it, it stays straight up to them. Darts in the edge are closed while it is drawn.
    """

    fair: ClassVar[bool] = True
    phrases = ("redraw the edge",)

    edge: str = name("full name of the edge, such as front.armhole", of="edge")
    through: str = text("the points, such as '25%:6mm 50%:14mm 80%:9mm'")

    def __post_init__(self) -> None:
        self._read()

    def _read(self) -> tuple[tuple[float, float], ...]:
        """Return the shares and depths (mm) written; raises BadParameter for what is neither."""
        points: list[tuple[float, float]] = []
        if len(self.through) > LONGEST_DRAWN:
            raise BadParameter("through", self.through, f"give 1 to {_MOST_POINTS} points")
        rest = self.through.strip()
        while rest:
            match = _POINT.match(rest)
            if not match:
                raise BadParameter("through", rest, _HOW_TO_WRITE)
            points.append((_share(match["share"]), _depth(match["depth"])))
            rest = rest[match.end() :]
        if not 0 < len(points) <= _MOST_POINTS:
            raise BadParameter(
                "through", self.through or "empty", f"give 1 to {_MOST_POINTS} points"
            )
        shares = [share for share, _ in points]
        if any(after <= before for before, after in pairwise(shares)):
            raise BadParameter("through", self.through, "its shares go up from point to point")
        return tuple(points)

    def apply(self, draft: Draft) -> Draft:
        piece_name, edge_name = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        if piece.fold == edge_name:
            raise CannotChange(
                self.kind,
                piece_name,
                edge_name,
                "it lies on the fold of the cloth and must stay straight",
                "redraw another edge",
            )
        points = self._read()
        deepest = max((depth for _, depth in points), key=abs)

        def redrawn(line: Chain, amount: float) -> Chain:
            way = line.end - line.start
            if abs(way) < SAME_POINT:
                raise CannotChange(
                    self.kind, piece_name, edge_name, "its ends are one point", "move them apart"
                )
            inward = way / abs(way) * piece.inward
            scale = amount / deepest if deepest else 1.0
            through = [line.start + way * s + inward * depth * scale for s, depth in points]
            through_them = fair_line if self.fair else smooth_line
            return through_them(
                [line.start, *through, line.end], line.start_tangent, line.end_tangent
            )

        def attempt(amount: float) -> Draft:
            edge = reshaped(piece.edge(edge_name), lambda line: redrawn(line, amount))
            changed = piece.with_edges(edge)
            require_simple(self, changed, edge_name, amount)
            return draft.with_pieces(changed)

        return or_furthest(self.kind, draft, attempt, deepest, (piece_name, edge_name))

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (self.edge,)

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (line_of(self.edge),)


def _share(written: str) -> float:
    share = float(written) / 100
    if not 0 < share < 1:
        raise BadParameter("through", f"{written}%", "a share lies between 0% and 100%")
    return share


def _depth(written: str) -> float:
    """Return a depth in mm; a unit must stand there, for no other unit is known here."""
    if written[-1].isdigit() and float(re.sub(r"[^0-9]", "", written) or 0):
        raise BadParameter("through", written, "write the unit of every distance, as in 6mm")
    try:
        return parse_length(written)
    except BadLength as wrong:
        raise BadParameter("through", written, str(wrong).rstrip(".")) from None
