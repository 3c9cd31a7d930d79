"""redraw-edge: draw an edge by hand, in the frame of its own ends."""

import re
from itertools import pairwise
from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, name
from trueup.geometry.errors import BadLength, BadParameter, DoesNotFit
from trueup.geometry.limits import LONGEST_DRAWN
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import fair_line, smooth_line
from trueup.geometry.measuring.forms import line_of
from trueup.geometry.pieces.closed_line import reshaped
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.redrawing.largest_amount import or_furthest
from trueup.geometry.redrawing.sound import require_sound
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT
from trueup.geometry.units import Unit, format_length, parse_length

_POINT = re.compile(
    r"[\s,;]*(?P<share>[0-9]+(?:\.[0-9]+)?)\s*%\s*:\s*(?P<depth>[^%:;]+?)\s*"
    r"(?=$|[\s,;]+[0-9.]+\s*%\s*:)"
)
_MOST_POINTS = 24


@kind("redraw-edge", version=2, unfair=1)
class RedrawEdge(Change):
    """Draw an edge anew by hand, through points measured from the straight line between its ends.

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
    through: str = free_text("the points, such as '25%:6mm 50%:14mm 80%:9mm'")

    def __post_init__(self) -> None:
        self._read()

    def _read(self) -> tuple[tuple[float, float], ...]:
        """Return the shares and depths (mm) written; raises BadParameter for what is neither."""
        points: list[tuple[float, float]] = []
        if len(self.through) > LONGEST_DRAWN:
            raise BadParameter("through", self.through, said("give-points", most=str(_MOST_POINTS)))
        rest = self.through.strip()
        while rest:
            match = _POINT.match(rest)
            if not match:
                raise BadParameter("through", rest, said("write-points"))
            points.append((_share(match["share"]), _depth(match["depth"])))
            rest = rest[match.end() :]
        if not 0 < len(points) <= _MOST_POINTS:
            raise BadParameter(
                "through", self.through or "empty", said("give-points", most=str(_MOST_POINTS))
            )
        shares = [share for share, _ in points]
        if any(after <= before for before, after in pairwise(shares)):
            raise BadParameter("through", self.through, said("shares-go-up"))
        return tuple(points)

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        points = ", ".join(
            f"{format_length(abs(depth), unit)} {'out' if depth < 0 else 'in'} at {share * 100:g}%"
            for share, depth in self._read()
        )
        return f"redraw the edge {self.edge}, {points} of the way between its ends{side}"

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge_name = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        if piece.fold == edge_name:
            raise DoesNotFit(said("fold-stays-straight"), said("redraw-another"))
        points = self._read()
        deepest = max((depth for _, depth in points), key=abs)

        def redrawn(line: Chain, amount: float) -> Chain:
            way = line.end - line.start
            if abs(way) < SAME_POINT:
                raise DoesNotFit(said("ends-are-one"), said("move-apart"))
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
            require_sound(changed, edge_name)
            return draft.with_pieces(changed)

        return or_furthest(attempt, deepest)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (self.edge,)

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (line_of(self.edge),)


def _share(written: str) -> float:
    share = float(written) / 100
    if not 0 < share < 1:
        raise BadParameter("through", f"{written}%", said("share-range"))
    return share


def _depth(written: str) -> float:
    """Return a depth in mm; a unit must stand there, for no other unit is known here."""
    if written[-1].isdigit() and float(re.sub(r"[^0-9]", "", written) or 0):
        raise BadParameter("through", written, said("write-unit"))
    try:
        return parse_length(written)
    except BadLength as wrong:
        raise BadParameter("through", written, wrong.says) from None
