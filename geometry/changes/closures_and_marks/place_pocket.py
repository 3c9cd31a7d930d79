"""place-pocket: a patch pocket, and its place marked on the piece it is sewn on."""

from dataclasses import replace

from shapely import Polygon

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name, position, require_new_name
from trueup.geometry.changes.parameters import require_one_of
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.polygons import polygon
from trueup.geometry.marking.adding import beyond_cloth, with_new_marks
from trueup.geometry.marking.places import frame_of, runs_of
from trueup.geometry.marking.pocket import MOUTH, Lower, PatchPocket
from trueup.geometry.measuring.measures import mark_measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import AtLevel, InnerMark, OnEdge, Purpose
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("place-pocket")
class PlacePocket(Change):
    """Draft a patch pocket with its allowances, and mark its place on the piece it is sewn on.

    Its mouth lies at a level, or at a place along an edge, or so far below that; its nearer side so
    far from the edge, its sides along it. The lower edge is square, rounded or pointed. It is cut
    with 30 mm to turn in at the mouth and 10 mm around (common practice, no source). The marked
    place follows edge and level; the pocket itself stays as it is. It is sewn on the face of the
    cloth, not edge to edge, so no seam is stated. Where the place would leave the piece or lie over
    a dart it is refused. Given for one side, only that side has it.
    """

    phrases = ("place a pocket",)

    edge: str = name("edge its distance is measured from, as piece.edge", of="edge")
    level: str | None = name("level at which its mouth lies, where that meets the edge", None)
    at: Position | None = position("or where along that edge its mouth begins", None, on="edge")
    below: float = length("how far its mouth lies further down", 0.0, low=-500, high=500)
    inside: float = length("how far its nearer side lies from the edge", low=0, high=1000)
    width: float = length("width of the pocket", low=20, high=600)
    height: float = length("height of the pocket, where it is highest", low=20, high=600)
    lower: str = name("how its lower edge is drawn", Lower.SQUARE.value, choices=tuple(Lower))
    lower_by: float = length(
        "radius of rounded corners, or depth of the point", 20.0, low=5, high=300
    )
    hem: float = length("cut at the mouth to be turned in", 30.0, low=0, high=100)
    allowance: float = length("cut around the other edges", 10.0, low=0, high=50)
    name: str = free_text("what the pocket is called", "pocket")

    def __post_init__(self) -> None:
        require_one_of(self, "level", "at")
        require_new_name("name", self.name)

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge = draft.split_edge_name(self.edge)
        if draft.has_piece(self.name):
            raise DoesNotFit(said("name-is-taken", name=self.name), said("another-name"))
        pocket = PatchPocket(self.width, self.height, Lower(self.lower), self.lower_by)
        mark = self._mark(draft.piece(piece_name), edge, pocket)
        self._require_room(draft.piece(piece_name), mark)
        marked = with_new_marks(draft, piece_name, mark)
        cut = pocket.piece(self.name, self.hem, self.allowance)
        return replace(marked, pieces=(*marked.pieces, cut))

    def _mark(self, piece: Piece, edge: str, pocket: PatchPocket) -> InnerMark:
        place = OnEdge(edge, self.at) if self.at else AtLevel(edge, self.level or "")
        # The sides of the pocket run along the edge, its mouth square to it, the way a maker reads
        # the piece: down the page, from whichever corner its place is measured.
        down = 1 if frame_of(piece, place).along.imag >= 0 else -1
        ring = tuple(
            complex(down * (self.below + p.imag), self.inside + p.real) for p in pocket.outline()
        )
        return InnerMark(self.name, Purpose.PLACEMENT, place, (ring,))

    def _require_room(self, piece: Piece, mark: InnerMark) -> None:
        beyond = beyond_cloth(piece, mark)
        if beyond > 0:
            raise DoesNotFit(said("leaves-piece", beyond=beyond), said("place-or-size"))
        ground = polygon(runs_of(piece, mark)[0][:-1])
        for dart, area in _darts(piece):
            if ground.intersects(area):
                reason = said("over-dart", dart=dart)
                raise DoesNotFit(reason, said("place-or-turn-dart"), edge=dart, dart=dart)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        piece, _ = draft.split_edge_name(self.edge)
        return (*mark_measures(piece, self.name), f"{self.name}.{MOUTH}")

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        size = f"{format_length(self.width, unit)} by {format_length(self.height, unit)}"
        shape = "" if self.lower == Lower.SQUARE else f", {self.lower} below"
        where = f", {self.at.in_words(unit)}" if self.at else f" at the {self.level}"
        below = f", {format_length(self.below, unit)} below" if self.below else ""
        inside = f"{format_length(self.inside, unit)} from {self.edge}"
        return f"place a pocket of {size}{shape}, {inside}{where}{below} ({self.name}){side}"


def _darts(piece: Piece) -> list[tuple[str, Polygon]]:
    """Return what each dart of a piece takes in, by its name."""
    found = [(dart.name, dart.diamond) for dart in piece.inner_darts]
    for edge in piece.edges:
        for mouth in edge.mouths:
            found.append((mouth.dart.name, polygon((mouth.first, mouth.tip, mouth.second))))
    return found
