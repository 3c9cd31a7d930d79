"""place-buttons: mark buttons and buttonholes along an opened edge."""

from collections.abc import Iterator

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import flag, length, name, number
from trueup.geometry.changes.parameters import require_one_of
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.marking.adding import beyond_cloth, with_new_marks
from trueup.geometry.marking.closures import (
    ABOVE_HEM,
    BUST,
    FROM_TOP,
    ButtonRow,
    extension_for,
    extension_of,
    hole,
    hole_length,
    least_apart,
)
from trueup.geometry.marking.places import sewn_length_at_level
from trueup.geometry.measuring.measures import mark_measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import AtLevel, InnerMark, OnEdge, Purpose
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT
from trueup.geometry.units import Unit, format_length

_BUTTONS, _HOLES, _BOTH = "buttons", "buttonholes", "both"


@kind("place-buttons")
class PlaceButtons(Change):
    """Mark buttons and buttonholes along an opened edge, by the size of the button.

    The buttons lie on the edge itself, the centre of the garment. The rim of the first lies 5 mm
    below the top, the last about 100 mm above the lower end, and one is held to the bust level
    where there is one between them, or to another `level`; the row hangs on that one and stays even
    when the neck is lowered later. Say how many there are, or how far apart: then all are as far
    apart as brings one to that level. A buttonhole is as long as the
    button is wide and thick; it lies across and begins 3 mm beyond the centre (all as published in
    lessons of dress pattern making), or `upright`, as on a placket. The extension beyond the edge
    has to be as wide as the button, one and a half times as wide for one of 10 mm or less.
    """

    phrases = ("place the buttons",)

    edge: str = name("edge the buttons lie on, as piece.edge", of="edge")
    button: float = length("diameter of a button", low=3, high=90)
    thickness: float = length("thickness of a button", 3.0, low=0, high=30)
    count: float | None = number("how many buttons", None, low=1, high=40)
    spacing: float | None = length("how far apart, instead", None, low=5, high=500)
    first: float = length("how far the first one's rim lies below the top", FROM_TOP, low=0)
    last: float = length("how far the last one lies above the lower end", ABOVE_HEM, low=0)
    level: str | None = name("level that one button is held to, the bust unless said", None)
    even: bool = flag("none is held to a level")
    upright: bool = flag("buttonholes along the edge, not across")
    only: str = name("what is marked", _BOTH, choices=(_BOTH, _BUTTONS, _HOLES))

    def __post_init__(self) -> None:
        require_one_of(self, "count", "spacing")
        if self.count is not None and self.count != int(self.count):
            raise BadParameter("count", f"{self.count:g}", said("whole-number"))
        if self.even and self.level:
            raise BadParameter("level", "given beside even", said("give-one"))

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        if piece.fold == edge:
            raise DoesNotFit(said("lies-on-fold"), said("open-it-first"))
        has, needs = extension_of(piece, edge), extension_for(self.button)
        if has < needs - SAME_POINT:
            reason = said("extension-narrow", extension=has, button=self.button)
            raise DoesNotFit(reason, said("extension-at-least", by=needs), largest=has)
        marks = tuple(self._marks(piece, edge))
        for mark in marks:
            beyond = beyond_cloth(piece, mark) - has
            if beyond > SAME_POINT:
                raise DoesNotFit(said("leaves-piece", beyond=beyond), said("another-place"))
        return with_new_marks(draft, piece_name, *marks)

    def _marks(self, piece: Piece, edge: str) -> Iterator[InnerMark]:
        places, held = self._places(piece, edge)
        ring = piece.edge(edge)
        top = ring.starts_at if ring.start.imag < ring.end.imag else ring.ends_at
        slit = hole(self.button, self.thickness, upright=self.upright)
        for number_, along in enumerate(places, start=1):
            place: OnEdge | AtLevel = OnEdge(edge, Position(top, distance=along))
            if held is not None:
                # The row hangs on its held button: it stays even when the neck is lowered.
                place = AtLevel(edge, held[0], round(along - held[1], 6))
            if self.only != _HOLES:
                yield InnerMark(f"button-{number_}", Purpose.BUTTON, place)
            if self.only != _BUTTONS:
                yield InnerMark(f"buttonhole-{number_}", Purpose.BUTTONHOLE, place, (slit,))

    def _places(
        self, piece: Piece, edge: str
    ) -> tuple[tuple[float, ...], tuple[str, float] | None]:
        """Return where the buttons lie from the top, and which level holds one where, if any."""
        total = piece.edge(edge).length
        first, last = self.first + self.button / 2, total - self.last
        if last < first:
            reason = said("no-room-for-buttons", length=total)
            raise DoesNotFit(reason, said("nearer-the-ends"))
        held = self._held(piece, edge, first, last)
        long = hole_length(self.button, self.thickness)
        least = least_apart(self.button, long, upright=self.upright)
        row = ButtonRow(first, last, held[1] if held else None, least)
        if self.count is not None:
            return row.of_count(int(self.count)), held
        return row.spaced(self.spacing or 0.0), held

    def _held(self, piece: Piece, edge: str, first: float, last: float) -> tuple[str, float] | None:
        level = self.level or BUST
        if self.even or (not self.level and not piece.has_level(level)):
            return None
        at = sewn_length_at_level(piece, edge, piece.level(level).name)
        ring = piece.edge(edge)
        along = at if ring.start.imag < ring.end.imag else ring.length - at
        if first <= along <= last:
            return level, along
        if not self.level:
            return None
        reason = said("level-not-between", level=level, low=first, high=last)
        raise DoesNotFit(reason, said("another-level"))

    def meant(self, draft: Draft) -> tuple[str, ...]:
        piece_name, edge = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        return tuple(mark_measures(piece_name, m.name)[0] for m in self._marks(piece, edge))

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        size = format_length(self.button, unit)
        many = f"{self.count:g} " if self.count is not None else ""
        apart = f", {format_length(self.spacing, unit)} apart" if self.spacing else ""
        what = {_BOTH: "buttons and buttonholes"}.get(self.only, self.only)
        upright = ", upright" if self.upright and self.only != _BUTTONS else ""
        return f"mark {many}{what} of {size} along {self.edge}{apart}{upright}{side}"
