"""cut-gores: cut a skirt into gores, its darts taken in by their seams."""

from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name, number, require_new_name
from trueup.geometry.cuts.gores import Gores, in_gores
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length

_MOST_GORES = 12


@kind("cut-gores")
class CutGores(Change):
    """Cut a piece into gores of equal width at the hem, to be sewn together again.

    The lines part the upper edge, as it is sewn, and the hem in the same shares, and run straight
    from the one to the other. Of a piece on the fold, the gore at the fold is cut as half of one,
    so that all are alike once it is unfolded. They are named from the centre on, and each is cut
    off what is left of the piece as by `cut-apart`; the lines that the seams interrupt go on
    across them, and the whole is still told of by its name.

    A dart that opens on the upper edge `near` a line is brought into it, its intake and its length
    as they were, and the edge is trued across it: then the seam takes it in. Two darts of one line
    become one. A dart farther away stays, and a line that would run through one is refused.

    With a `flare`, both sides of each line are let out by so much at the hem as `flare-seam` does
    it; a side seam is let out by that. The grainline of each gore but that at the centre runs down
    its middle (common practice, no source).
    """

    of_parts: ClassVar[bool] = True
    phrases = ("cut into gores",)

    piece: str = name("piece that is cut into gores, such as skirt-front", of="piece")
    gores: float = number("how many gores it is cut into", low=2, high=_MOST_GORES)
    begins: str = name("edge on which the lines begin", "waist")
    flare: float = length("how far each side of a line moves out at the hem", 0.0, low=0, high=600)
    below: float | None = length(
        "how far below the upper edge the flare begins; at the hip unless given",
        None,
        low=0,
        high=1500,
    )
    near: float = length("how near a line a dart opens that it takes in", 70.0, low=0, high=300)
    line: str = free_text("what the lines are called, each with its number", "gore-line")
    parts: str = free_text(
        "what the gores are called, from the centre on; with the piece's name and their number "
        "unless given",
        "",
    )

    def __post_init__(self) -> None:
        if self.gores != int(self.gores):
            raise BadParameter("gores", f"{self.gores:g}", said("whole-number"))
        if self.below is not None and not self.flare:
            raise BadParameter("below", said("length", mm=self.below), said("only-with-flare"))
        require_new_name("line", self.line)
        names = self.parts.split()
        for each in names:
            require_new_name("parts", each)
        if names and len({*names}) != self.gores:
            raise BadParameter("parts", self.parts, said("names-wanted", count=f"{self.gores:g}"))

    def carried_out(self, draft: Draft) -> Draft:
        parts = draft.parts_of(self.piece)
        if len(parts) > 1:
            names = ", ".join(part.name for part in parts)
            raise DoesNotFit(said("is-cut-apart", parts=names), said("name-a-part"))
        numbered = (f"{self.piece}-gore-{k}" for k in range(1, int(self.gores) + 1))
        names_given = tuple(self.parts.split()) or tuple(numbered)
        gores = Gores(self.begins, names_given, self.line, self.near, self.flare, self.below)
        return in_gores(draft, parts[0], gores)

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return self.piece, self.begins

    def in_words(self, unit: Unit) -> str:
        where = f" on the {self.side}" if self.side else ""
        flare = f", flared by {format_length(self.flare, unit)}" if self.flare else ""
        begins = f" from the {self.begins}" if self.begins != "waist" else ""
        return f"cut the {self.piece} into {self.gores:g} gores{begins}{flare} ({self.line}){where}"

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()
