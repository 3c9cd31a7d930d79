"""add-vent: leave a seam open down to the hem, with cloth beside it that is turned in or laps."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name, position, require_new_name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.open_seams import Opening, left_open, sewn_measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Vent
from trueup.geometry.pieces.position import Position
from trueup.geometry.pleats.laid_open import laid_open, require_openable
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("add-vent")
class AddVent(Change):
    """Leave a seam open from a place on an edge down to the hem, with an extension to either side.

    The seam is sewn from its upper end to that place, as by `slit`. Beside the edge, from there to
    the hem, both pieces are cut with an extension that is turned in along the edge, or laps under:
    its upper end slopes down on its way out, its lower end is the hem turned over, and its free
    side has an allowance of its own. The piece goes on as it is sewn, the vent closed: no edge is
    longer for it; only the cloth is cut with the extension, on sheets, in drawings and garments,
    and the fold is drawn.

    An edge that no seam sews, as a centre back cut as a pair, gets its extension alone. With
    `underlap` the other piece has another width than this one. A vent of a skirt is 150 mm to 250
    mm long and 40 mm to 50 mm wide (common practice, no source).
    """

    phrases = ("vent",)

    edge: str = name("edge that is opened, such as skirt-back.centre", of="edge")
    at: Position = position("where along that edge it is open from", on="edge")
    width: float = length("how wide its extension is", 40.0, low=5, high=300)
    underlap: float | None = length(
        "how wide that of the piece it is sewn to is; as wide unless given", None, low=5, high=300
    )
    slope: float = length("how far its upper end runs down on its way out", 20.0, low=0, high=200)
    allowance: float = length("what is cut on along its free side", 10.0, low=0, high=100)
    name: str = free_text("what it is called", "vent")

    def __post_init__(self) -> None:
        require_new_name("name", self.name)

    def carried_out(self, draft: Draft) -> Draft:
        opened, places = left_open(draft, self.edge, self.at, self.name, self.side)
        widths = (self.width, self.width if self.underlap is None else self.underlap)
        for place, width in zip(places, widths, strict=False):
            opened = self._with_vent(opened, place, width)
        return opened

    def _with_vent(self, draft: Draft, place: Opening, width: float) -> Draft:
        piece = draft.piece(place.piece)
        taken = {*piece.edge_names, *(vent.name for vent in piece.vents)}
        if self.name in taken:
            raise DoesNotFit(said("name-is-taken", name=self.name), said("another-name"))
        sizes = (width, self.slope, self.allowance)
        vent = Vent(self.name, place.edge, place.at, place.hem, *sizes)
        vented = replace(piece, vents=(*piece.vents, vent))
        try:
            laid_open(vented)
            require_openable(vented)
        except DoesNotFit as refusal:
            raise refusal.at(piece.name, place.edge) from refusal
        return draft.with_pieces(vented)

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        wide = format_length(self.width, unit)
        begins = f"beginning {self.at.in_words(unit)}"
        return f"leave {self.edge} open for a vent {wide} wide, {begins} ({self.name}){side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:
        piece = self.edge.partition(".")[0]
        return (f"{piece}.{self.name}.width", *sewn_measures(draft, self.edge))
