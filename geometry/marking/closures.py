"""Buttons and buttonholes: what they need, and where they lie along an opened edge. Lengths in mm.

Figures are those published in lessons of dress pattern making, unless said otherwise.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.marks.cut_corner import CutCorner, Treatment
from trueup.geometry.pieces.marks.mark import BesideEdge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT

OPENING_EDGE = "opening-edge"
"""What the edge of an opening is marked as, where the extension ends and the facing begins."""

BEYOND_CENTRE = 3.0
"""A buttonhole begins so far beyond the button: 1/8 in, for the thread that the button hangs on."""

FROM_TOP = 5.0
"""The rim of the first button lies so far below the top."""

ABOVE_HEM = 100.0
"""The last button lies about so far above the hem: 4 in."""

BUST = "bust"
"""The level at which one button lies."""

_SMALL = 10.0
"""A button up to this is small: one of 3/8 in is what is published as such."""

_SMALL_TAKES = 1.5
"""A small button takes an extension of so many times its diameter; all others of one."""

_BETWEEN_HOLES = 5.0
"""Between two holes, or rims, there is at least so much cloth (common practice, no source)."""


def extension_for(button: float) -> float:
    """Return how far the edge of an opening has to lie beyond the line of its buttons.

    >>> extension_for(20.0), extension_for(8.0)
    (20.0, 12.0)
    """
    return button * _SMALL_TAKES if button <= _SMALL else button


def extension_of(piece: Piece, edge: str) -> float:
    """Return how far the edge of an opening lies beyond an edge: as marked, as far as it is cut."""
    opening = _opening(piece)
    cut = piece.allowance(edge)
    return min(cut, -opening.inside) if opening and opening.edge == edge else cut


def opened_edge(piece: Piece) -> str | None:
    """Return the edge at which a piece was opened, where it is marked."""
    opening = _opening(piece)
    return opening.edge if opening else None


def _opening(piece: Piece) -> BesideEdge | None:
    places = (mark.place for mark in piece.marks if mark.name == OPENING_EDGE)
    return next((place for place in places if isinstance(place, BesideEdge)), None)


def turned_back(piece: Piece, edge: str, by: float) -> Piece:
    """Return a piece whose allowance at an edge is turned back along a line `by` outside it.

    Its ends are cut as the mirror image of what they come to lie on.
    """
    ends = (piece.edge(edge).starts_at, piece.edge(edge).ends_at)
    kept = tuple(each for each in piece.corners if each.corner not in ends)
    new = tuple(CutCorner(corner, Treatment.MIRRORED, edge, by) for corner in ends)
    return replace(piece, corners=(*kept, *new))


@dataclass(frozen=True)
class ButtonRow:
    """Where a row of buttons may lie along an edge: the first, the last, and one that is held.

    All three are lengths from the top of the edge; `least` is what lies between two buttons.
    """

    first: float
    last: float
    held: float | None
    least: float

    def of_count(self, count: int) -> tuple[float, ...]:
        """Return the places of so many buttons, above and below the held one as alike as can be.

        Raises DoesNotFit where they would come too near to each other.
        """
        places = self._of_count(count)
        if not self._has_room_for(places):
            fewer = (n for n in range(count - 1, 1, -1) if self._has_room_for(self._of_count(n)))
            raise self._too_near(places, next(fewer, 1))
        return places

    def spaced(self, by: float) -> tuple[float, ...]:
        """Return the places of buttons as far apart as is asked, or nearly so to meet the held one.

        The last lies above where it may lie by less than one step. Raises DoesNotFit.
        """
        if self.held is not None and self.held - self.first > SAME_POINT:
            above = max(round((self.held - self.first) / by), 1)
            by = (self.held - self.first) / above
        count = int((self.last - self.first) / by + SAME_POINT)
        places = tuple(self.first + k * by for k in range(count + 1))
        if not self._has_room_for(places):
            raise self._too_near(places, int((self.last - self.first) / self.least) + 1)
        return places

    def _of_count(self, count: int) -> tuple[float, ...]:
        if count == 1:
            return (self.first if self.held is None else self.held,)
        if self.held is None:
            return tuple(_spread(self.first, self.last, count - 1))
        if count == 2:
            return self.first, self.held
        ways = [
            (*_spread(self.first, self.held, above), *_spread(self.held, self.last, below)[1:])
            for above, below in ((k, count - 1 - k) for k in range(1, count - 1))
        ]
        return min(ways, key=_unevenness)

    def _has_room_for(self, places: tuple[float, ...]) -> bool:
        return all(b - a >= self.least - SAME_POINT for a, b in pairwise(places))

    def _too_near(self, places: tuple[float, ...], most: int) -> DoesNotFit:
        apart = min(b - a for a, b in pairwise(places))
        reason = said("buttons-too-near", apart=apart, least=self.least)
        return DoesNotFit(reason, said("fewer-buttons", most=str(most)))


def _spread(first: float, last: float, steps: int) -> list[float]:
    return [first + (last - first) * k / steps for k in range(steps + 1)]


def _unevenness(places: Sequence[float]) -> float:
    steps = [b - a for a, b in pairwise(places)]
    return max(steps) / max(min(steps), SAME_POINT)


def least_apart(button: float, hole: float, *, upright: bool) -> float:
    """Return how far apart two buttons lie at least."""
    return (max(button, hole) if upright else button) + _BETWEEN_HOLES


def hole_length(button: float, thickness: float) -> float:
    """Return how long a buttonhole is: the button's diameter and its thickness."""
    return button + thickness


def hole(button: float, thickness: float, *, upright: bool) -> tuple[complex, complex]:
    """Return a buttonhole as seen from its button: along the edge, and into the piece.

    Across, it begins beyond the centre; upright, above the button (from memory, no source).
    """
    length = hole_length(button, thickness)
    ends = -BEYOND_CENTRE, length - BEYOND_CENTRE
    begin, end = (complex(at, 0) if upright else complex(0, at) for at in ends)
    return begin, end
