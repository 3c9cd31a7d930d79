"""state-grain: say how a piece lies on the threads of the cloth."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name, number
from trueup.geometry.marking.grain import grain_along
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit


@kind("state-grain")
class StateGrain(Change):
    """Say how a piece lies on the lengthwise threads: along an edge, or at an angle to it.

    The grainline is drawn through the middle of the piece, in place of one that is there: for a
    piece that came without, or that is cut otherwise, 45 degrees for the bias. No line moves.
    """

    phrases = ("state the grain",)

    edge: str = name("edge the threads run along, such as back.centre", of="edge")
    degrees: float = number("how far they turn from it, into the piece", 0.0, low=-90, high=90)

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        return draft.with_pieces(replace(piece, grainline=grain_along(piece, edge, self.degrees)))

    @property
    def trues(self) -> bool:
        return True

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        side = f" on the {self.side}" if self.side else ""
        turned = f", turned by {self.degrees:g} degrees" if self.degrees else ""
        return f"lay the grain along {self.edge}{turned}{side}"
