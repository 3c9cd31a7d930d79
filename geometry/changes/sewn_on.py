"""A change that drafts a piece to a line of one or several edges, and sews it on.

What every such kind needs stands here, beside what each draws.
"""

from trueup.geometry.changes.base import Change
from trueup.geometry.changes.declaring import require_new_name
from trueup.geometry.following.bent import SEWN
from trueup.geometry.following.new_piece import with_drafted
from trueup.geometry.following.sewn_line import lines_named, runs_of
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import EVEN, Draft, Run, Seam
from trueup.geometry.pieces.drafted import SewnTo


class SewnOn(Change):
    """A change that drafts a piece called `name` to the line `to`, named edge after edge."""

    to: str
    name: str

    def __post_init__(self) -> None:
        require_new_name("name", self.name)
        lines_named(self.to)

    def sewn_on(self, draft: Draft, to: SewnTo, spare: float, *more: Seam) -> Draft:
        """Return the draft with the piece sewn to its line, which is longer by `spare`, mm.

        `more` are seams within the piece.
        """
        allowed = Band(spare, spare, EVEN.tolerance)
        runs = runs_of(draft, to.lines)
        seam = Seam(f"{self.name}-seam", runs, (Run(self.name, SEWN),), allowed)
        return with_drafted(draft, to, seam, *more)

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        piece, _, edge = self.to.split()[0].partition(".")
        return piece, edge

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.name}.{SEWN}",)
