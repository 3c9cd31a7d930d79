"""slit: leave a seam open from a place on down to the hem."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, name, position, require_new_name
from trueup.geometry.measuring.open_seams import left_open, sewn_measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit


@kind("slit")
class Slit(Change):
    """Leave a seam open from a place on an edge down to its lower end: a slit at a hem.

    The seam is sewn from its upper end to that place, where both sides are notched, as far down the
    one as down the other. Below it they may differ as they like, as where a back hangs longer; what
    is checked and measured of the seam is what is sewn. No line moves. The notches stay as far from
    the upper end, so a slit grows with a longer hem. An edge that no seam sews, as a centre back
    cut as a pair, is notched alone. `add-vent` makes a slit with cloth to turn in.
    """

    phrases = ("slit",)

    edge: str = name("edge that is left open, such as front.side", of="edge")
    at: Position = position("where along that edge it is open from", on="edge")
    name: str = free_text("what its notches are called", "slit")

    def __post_init__(self) -> None:
        require_new_name("name", self.name)

    def carried_out(self, draft: Draft) -> Draft:
        return left_open(draft, self.edge, self.at, self.name, self.side)[0]

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        begins = f"beginning {self.at.in_words(unit)}"
        return f"leave {self.edge} open as a slit, {begins} ({self.name}){side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return sewn_measures(draft, self.edge)
