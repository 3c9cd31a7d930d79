"""unpick: take a seam out that was stated wrongly, or is sewn no more."""

from dataclasses import replace
from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@kind("unpick")
class Unpick(Change):
    """Take a seam out: its two lines are sewn to each other no more.

    For one that was stated wrongly, or where the lines are sewn otherwise from here on. No line
    moves, and what ran on across the seam goes on being asked to; state-join takes that back. Lines
    that are sewn to nothing then are told of until that is said of them, with sew-together or
    leave-free. The seam along which a piece was cut apart, and that of a dart, stay.
    """

    of_parts: ClassVar[bool] = True
    phrases = ("unpick the seam",)

    seam: str = name("seam that is taken out, such as side-seam", of="seam")

    def carried_out(self, draft: Draft) -> Draft:
        seam = draft.seam(self.seam)
        if any(seam.name in cut.seam_names for cut in draft.cuts):
            raise DoesNotFit(said("seam-of-cut", seam=seam.name), said("join-parts-instead"))
        following = [to.piece for to in draft.drafted if to.piece in seam.pieces]
        if following:
            reason = said("follows-by-seam", seam=seam.name, piece=following[0])
            raise DoesNotFit(reason, said("drop-it-first", piece=following[0]))
        return replace(draft, seams=tuple(each for each in draft.seams if each is not seam))

    def place(self, draft: Draft) -> tuple[str, str]:
        return draft.seam(self.seam).place if draft.has_seam(self.seam) else ("", "")

    def same_place(self, other: Change) -> bool:
        return super().same_place(other) and self.seam == getattr(other, "seam", None)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        side = f" on the {self.side}" if self.side else ""
        return f"unpick the {self.seam}{side}"
