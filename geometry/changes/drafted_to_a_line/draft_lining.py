"""draft-lining: draft the lining of a piece."""

from collections.abc import Iterator
from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name, require_new_name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.facing import INNER
from trueup.geometry.following.lining import centre_of, facing_of
from trueup.geometry.following.new_piece import with_drafted
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import EVEN, Draft, Run, Seam
from trueup.geometry.pieces.drafted import LiningTo
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("draft-lining")
class DraftLining(Change):
    """Draft the lining of a piece: the same outline and darts, with cloth at the centre to spare.

    It is a piece of its own. Its centre lies further out by the depth of a pleat, which is marked
    with a notch above and below and laid or left loose, so that the lining does not pull; its hem
    is raised along both edges that meet it. Where the piece has a facing, that is left out: the
    lining ends at the facing's inner edge and is sewn to it, the pleat laid. Linings of several
    pieces are sewn together as the pieces are, with the same ease. It follows the whole piece, and
    the facing: where one changes, here or above, the lining is drawn anew, unless its own lines
    were drawn otherwise.

    20 mm at the centre back and a hem 20 mm shorter are usual (common practice, no source).
    """

    phrases = ("draft a lining",)

    piece: str = name("piece that is lined", of="piece")
    name: str | None = free_text("what the lining is called; front-lining unless given", None)
    pleat: float = length("how far its centre lies further out", 0.0, low=0, high=100)
    shorter: float = length("how much shorter it is at the hem", 0.0, low=0, high=300)
    facings: str = free_text(
        "facings of the piece that are left out, such as 'front-neck-facing'", "", of="piece"
    )

    def __post_init__(self) -> None:
        require_new_name("name", self._called)

    @property
    def _called(self) -> str:
        return self.name or f"{self.piece}-lining"

    def carried_out(self, draft: Draft) -> Draft:
        if not draft.piece(self.piece).is_simple:
            # A piece that was cut apart, its parts flared since.
            raise DoesNotFit(said("lies-over-itself"), said("line-the-parts"), self.piece, "hem")
        facings = tuple(self.facings.split())
        to = LiningTo(self._called, self.piece, self.pleat, self.shorter, facings)
        return with_drafted(
            draft, to, *self._seams_to_facings(draft, to), *_seams_of_linings(draft, to)
        )

    def _seams_to_facings(self, draft: Draft, to: LiningTo) -> Iterator[Seam]:
        """Yield the seams to the facings: the lining is longer where its pleat is laid in them."""
        piece = draft.piece(to.of)
        for facing in to.facings:
            line = facing_of(draft, to.of, facing).line.partition(".")[2]
            beside = [edge.name for edge in piece.neighbours(line)]
            longer = to.pleat if to.pleat and centre_of(piece) in beside else 0.0
            own, other = Run(to.piece, line), Run(facing, INNER, backwards=True)
            allowed = Band(longer, longer, EVEN.tolerance)
            yield Seam(f"{to.piece}-{facing}-seam", (own,), (other,), allowed)

    def place(self, draft: Draft) -> tuple[str, str]:
        edges = draft.piece(self.piece).edge_names if draft.has_piece(self.piece) else ("",)
        return self.piece, "hem" if "hem" in edges else edges[0]

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{self._called}.{edge}" for edge in draft.piece(self.piece).edge_names)

    def in_words(self, unit: Unit) -> str:
        amounts = [
            f"{words} {format_length(mm, unit)}"
            for words, mm in (("a pleat of", self.pleat), ("a hem shorter by", self.shorter))
            if mm
        ]
        amount = f", with {' and '.join(amounts)}" if amounts else ""
        side = f" on the {self.side}" if self.side else ""
        return f"draft the lining of the {self.piece}{amount} ({self._called}){side}"


def _seams_of_linings(draft: Draft, new: LiningTo) -> Iterator[Seam]:
    """Yield the seams by which a new lining is sewn to those there are, as its piece is."""
    told = [*(to for to in draft.drafted if isinstance(to, LiningTo)), new]
    linings = {to.of: to.piece for to in told if to is new or draft.has_piece(to.piece)}
    for seam in draft.seams:
        lined = [_lined(draft, run, linings) for run in seam.runs]
        runs = [run for run in lined if run is not None]
        if len(runs) < len(lined) or new.piece not in {run.piece for run in runs}:
            continue
        side, mate = (
            tuple(dict.fromkeys(runs[low:high]))
            for low, high in ((0, len(seam.side)), (len(seam.side), len(runs)))
        )
        yield replace(seam, name=f"lining-{seam.name}", side=side, mate=mate)


def _lined(draft: Draft, run: Run, linings: dict[str, str]) -> Run | None:
    """Return the run of a lining that lies under a run; None where that piece has no lining."""
    own = next((linings[name] for name in draft.cut_from(run.piece) if name in linings), None)
    return replace(run, piece=own) if own else None
