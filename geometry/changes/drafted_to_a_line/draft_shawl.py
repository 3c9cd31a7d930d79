"""draft-shawl: grow a shawl collar on to a front."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.sewn_line import lines_named, runs_of
from trueup.geometry.measuring.walk import run_length
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.redrawing.fronts.past_centre import FRONT_EDGE, without_gone
from trueup.geometry.redrawing.fronts.shawl import CENTRE_BACK, NECK_EDGE, OUTER, Shawl, with_shawl
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length

_NECK = "neck"


@kind("draft-shawl")
class DraftShawl(Change):
    """Grow a shawl collar on to a front: lapel and collar are one piece with it.

    The roll line runs from the edge of the front, where the lapel breaks, to the shoulder line
    drawn on beyond the neck by the height of the stand. Its neck goes: from the neck point on lies
    the edge that is sewn to the neck of the back, exactly as long as that, swung away from the roll
    line by a spring, so that the outer edge is long enough. Square to it lies the centre back, the
    stand and the fall in one, sewn to the other half of the collar. The outer edge runs in one line
    from the break over the widest of the lapel to the centre back. Roll line and centre are marked.
    A front that lay on the fold becomes a pair. Both neck lines are made as they are to be before.

    A stand of 25 mm, a fall of 50 mm at the centre back and a spring of 13 mm are usual.
    """

    phrases = ("grow a shawl collar on",)

    piece: str = name("front that it is grown on to", "front", of="piece")
    to: str = free_text("neck of the back, from the shoulder to the centre back", "back.neck")
    opens: float = length("how far below the neck the lapel breaks", low=10, high=1000)
    extension: float = length("how far the edge lies beyond the centre", 20.0, low=0, high=150)
    stand: float = length("how high it stands at the centre back", 25.0, low=5, high=80)
    fall: float = length("how far it falls over at the centre back", 50.0, low=5, high=200)
    spring: float = length("how far its back is swung away", 13.0, low=0, high=60)
    lapel: float = length("how far it lies beyond the roll line", 80.0, low=5, high=300)

    def carried_out(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        centre = piece.fold or piece.edge("centre").name
        backs = runs_of(draft, lines_named(self.to))
        back = run_length(draft, backs)
        if self.spring > back / 2:
            possible = said("use-at-most", by=back / 2)
            raise DoesNotFit(said("springs-too-far"), possible, largest=back / 2)
        shawl = Shawl(
            centre,
            _NECK,
            self.opens,
            self.extension,
            self.stand,
            self.fall,
            self.spring,
            self.lapel,
            back,
        )
        changed = with_shawl(piece, shawl)
        sewn = Run(piece.name, NECK_EDGE)
        own = (Run(piece.name, CENTRE_BACK),)
        seams = (
            Seam(f"{piece.name}-collar-seam", backs, (sewn,)),
            Seam(f"{piece.name}-collar-centre-seam", own, own),
        )
        for seam in seams:
            if draft.has_seam(seam.name):
                raise DoesNotFit(said("name-is-taken", name=seam.name), said("leave-as-is"))
        left = without_gone(draft.with_pieces(changed), piece, changed)
        return replace(left, seams=(*left.seams, *seams))

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return self.piece, _NECK

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return tuple(f"{self.piece}.{e}" for e in (FRONT_EDGE, OUTER, CENTRE_BACK, NECK_EDGE))

    def in_words(self, unit: Unit) -> str:
        opens = format_length(self.opens, unit)
        side = f" on the {self.side}" if self.side else ""
        return f"grow a shawl collar on to the {self.piece}, open {opens} below the neck{side}"
