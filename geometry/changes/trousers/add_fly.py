"""add-fly: leave the centre front of trousers open at the waist, with an extension to turn in."""

from collections.abc import Iterator
from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name, require_new_name
from trueup.geometry.errors import BadParameter, DoesNotFit, NoSuchName
from trueup.geometry.lines.points import Point, cross, dot
from trueup.geometry.marking.places import PlaceFrame, frame_of
from trueup.geometry.measuring.open_seams import left_open_to_mirror
from trueup.geometry.pieces.draft import Draft, Run
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge, Purpose
from trueup.geometry.pieces.piece import Piece, Vent
from trueup.geometry.pieces.position import Position
from trueup.geometry.pleats.laid_open import laid_open, require_openable
from trueup.geometry.redrawing.drawn_on import reversed_edge
from trueup.geometry.redrawing.hems.leg import WAIST
from trueup.geometry.said import said
from trueup.geometry.tolerance import CLOTH_LEFT
from trueup.geometry.units import Unit, format_length

_STRAY = 1.5
"""How far the edge may stray from the fold, mm: so much cloth gives."""

_ROUND = 8


@kind("add-fly")
class AddFly(Change):
    """Leave the crotch seam of trousers open from the waist down to a stop, for a fly.

    The edge is sewn to its mirror up to the stop, where it is notched; the seam is stated. Beside
    the edge, from the stop up to the waist, the front is cut with an extension that is turned in
    along it as a facing, or laps under: its upper end is the waist turned over, its lower end
    slants, and its free side has an allowance of its own. The piece goes on as it is sewn, the fly
    closed: no edge moves for it, and the crotch still runs on across the inseam.

    The line along which it is stitched runs beside the edge and bends round to the stop. The stop
    stays as far from the waist whatever becomes of the crotch. The fly must lie where the edge is
    straight; it is made on both fronts alike. Flies are 150 mm to 180 mm long and 35 mm to 45 mm
    wide (common practice, no source).
    """

    phrases = ("add the fly",)

    edge: str = name("centre front edge that is opened", "trouser-front.crotch", of="edge")
    long: float = length("how long it is from the waist down", 160.0, low=50, high=400)
    width: float = length("how wide its extension is", 40.0, low=10, high=120)
    stitched: float = length(
        "how far beside the edge it is stitched; not at all with 0", 30.0, low=0, high=120
    )
    slope: float = length("how far its lower end runs up on its way out", 20.0, low=0, high=100)
    allowance: float = length("what is cut on along its free side", 10.0, low=0, high=100)
    name: str = free_text("what it is called", "fly")

    def __post_init__(self) -> None:
        if self.side:
            raise BadParameter("side", self.side, said("fly-is-of-both"))
        require_new_name("name", self.name)
        if self.stitched > self.width:
            most = said("at-most", most=self.width)
            raise BadParameter("stitched", said("length", mm=self.stitched), most)

    def carried_out(self, draft: Draft) -> Draft:
        name, edge = draft.split_edge_name(self.edge)
        piece = draft.piece(name)
        top = _at_waist(piece, edge)
        self._require_room(piece, edge, top)
        at = Position(top, distance=self.long)
        opened = left_open_to_mirror(draft, self.edge, at, self.name)
        piece = opened.piece(name)
        taken = {*piece.edge_names, *(vent.name for vent in piece.vents)}
        taken |= {mark.name for mark in piece.marks}
        if self.name in taken:
            raise DoesNotFit(said("name-is-taken", name=self.name), said("another-name"))
        sizes = (self.width, self.slope, self.allowance)
        vented = replace(piece, vents=(*piece.vents, Vent(self.name, edge, at, top, *sizes)))
        laid_open(vented)
        require_openable(vented)
        marks = [self._stitches(piece, edge, top)] if self.stitched else []
        return opened.with_pieces(vented.with_marks(*marks))

    def _require_room(self, piece: Piece, edge: str, top: str) -> None:
        own = _down(piece.edge(edge), top)
        straight = _straight(own)
        if self.long > straight:
            reason = said("fly-into-curve", long=self.long, edge=edge)
            possible = said("use-at-most", by=straight)
            raise DoesNotFit(reason, possible, edge=edge, largest=straight)
        waist = _down(piece.edge(WAIST), top)
        room = waist.parts[0].length - CLOTH_LEFT
        if self.width > room:
            reason = said("fly-too-wide", width=self.width)
            raise DoesNotFit(reason, said("use-at-most", by=room), edge=edge, largest=room)

    def _stitches(self, piece: Piece, edge: str, top: str) -> InnerMark:
        """Return the stitches, kept by the waist: down beside the edge and round to the stop."""
        own = _down(piece.edge(edge), top)
        down = own.parts[0].start_tangent
        onward = own.starts_at == piece.edge(edge).starts_at
        beside = PlaceFrame(own.start, down, down * piece.inward * (1 if onward else -1))
        place = OnEdge(WAIST, Position(top, distance=0.0))
        ways = (frame_of(piece, place).way_to(beside(way)) for way in self._round())
        return InnerMark(self.name, Purpose.STITCH, place, (tuple(ways),))

    def _round(self) -> Iterator[Point]:
        """Yield how far down and beside the edge the stitches run, to the stop."""
        yield complex(0.0, self.stitched)
        high = self.long - min(self.stitched * 1.5, self.long / 2)
        for k in range(_ROUND + 1):
            turned = (1 - (k / _ROUND) ** 2) ** 0.5
            yield complex(high + (self.long - high) * k / _ROUND, self.stitched * turned)

    def in_words(self, unit: Unit) -> str:
        long, wide = (format_length(each, unit) for each in (self.long, self.width))
        return f"add a fly to {self.edge}, {long} long and {wide} wide ({self.name})"

    def meant(self, draft: Draft) -> tuple[str, ...]:
        piece, _, edge = self.edge.partition(".")
        own = Run(piece, edge)
        sewn = (s.name for s in draft.seams if own in (replace(r, backwards=False) for r in s.runs))
        return (f"{piece}.{self.name}.width", f"{next(sewn, f'{piece}-{edge}')}.open")


def _at_waist(piece: Piece, edge: str) -> str:
    """Return the corner at which an edge comes to the waist; raises DoesNotFit without one."""
    if WAIST not in piece.edge_names:
        raise NoSuchName("edge", WAIST, piece.name, piece.edge_names)
    before, after = piece.neighbours(edge)
    for beside, corner in (
        (after, piece.edge(edge).ends_at), (before, piece.edge(edge).starts_at),
    ):  # fmt: skip
        if beside.name == WAIST != edge:
            return corner
    raise DoesNotFit(said("comes-to-no-waist", edge=edge), said("name-another-edge"), edge=edge)


def _down(edge: Edge, top: str) -> Edge:
    """Return an edge travelled from a corner on."""
    return edge if edge.starts_at == top else reversed_edge(edge)


def _straight(edge: Edge) -> float:
    """Return how far from its start an edge lies as straight as a fold, to a millimetre."""
    line = edge.parts[0]
    for along in range(1, int(line.length) + 1):
        way = line.point_at(along) - line.start
        middle = line.point_at(along / 2) - line.start
        if abs(cross(way, middle)) > _STRAY * abs(way) or dot(way, middle) < 0:
            return along - 1.0
    return line.length - CLOTH_LEFT
