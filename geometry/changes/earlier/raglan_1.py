"""raglan, version 1: what is marked on the parts that go over is lost."""

from dataclasses import replace
from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, position
from trueup.geometry.cuts.raglan_line import (
    ARMHOLE,
    AT_ARMHOLE,
    AT_NECK,
    LINE,
    NECK,
    SHOULDER,
    Parted,
    parted,
)
from trueup.geometry.cuts.raglan_sleeve import CAP, raglan_sleeve
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.redrafting import lines_of
from trueup.geometry.pieces.bodice import BACK, FRONT
from trueup.geometry.pieces.draft import EVEN, Draft, Join, Run, Seam, Section
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import require_no_dart
from trueup.geometry.redrawing.sleeves.raglan import LaidRaglan, Raglan
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("raglan")
class FirstRaglan(Change):
    """Take the upper parts of front and back over to the sleeve, up to the neck: a raglan.

    On front and back a line runs from the neck to the armhole: it goes on smoothly as the armhole
    below and stands out a little towards the shoulder. What lies above it is laid on the sleeve as
    it is, its end at the length from the underarm that the armhole keeps, and turned until both
    shoulders run straight to one point on the arm, as far from both neck points. So the shoulder
    seam becomes a dart of the sleeve, `shoulder`, that opens on its neck. Its shoulder points come
    to lie as high as the crown of the cap was, one a little higher and the other lower, or by the
    `rise` above it: then the sleeve is wider over the shoulder, and the arm has more room.

    Front and back keep their names, and have the edge `raglan` between neck and armhole. The sleeve
    has the edges `cap-front` and `cap-back` of the same lengths as the armholes that are left,
    `raglan-front`, `raglan-back`, and `neck`. Its grainline, its seams and its hem stay. Shoulder
    seam and armhole seam are gone, and what a correction means there is lost on this pattern, and
    says so; the raglan seams are sewn even, without ease. A band is drafted to the neck as
    `back.neck sleeve.neck front.neck`.

    Darts on the shoulder, or on what goes over, are turned or released first, and neck, shoulder,
    armhole and the width and length of the sleeve are settled before. The line begins 25 mm to
    40 mm from the neck point (from memory).
    """

    of_parts: ClassVar[bool] = True
    takes_marks: ClassVar[bool] = False
    notched_from_line: ClassVar[bool] = False

    front_neck: float = length(
        "how far from the neck point the line begins on the front neck", 30.0, low=5, high=200
    )
    back_neck: float = length(
        "how far from the neck point it begins on the back neck", 25.0, low=5, high=200
    )
    front_at: Position | None = position(
        "where it ends on the front armhole; unless given at the front notch, or above it, where "
        "the armhole leads to the neck",
        None,
        on="armhole",
    )
    back_at: Position | None = position(
        "where it ends on the back armhole; unless given at the upper back notch, or above it, "
        "where the armhole leads to the neck",
        None,
        on="armhole",
    )
    front_curve: float | None = length(
        "how far the line stands out on the front from the straight way; as it comes unless given",
        None,
        low=0,
        high=60,
    )
    back_curve: float | None = length(
        "how far it stands out on the back; as it comes unless given", None, low=0, high=60
    )
    rise: float = length(
        "how much higher than the crown the shoulder points come to lie", 0.0, low=-40, high=60
    )

    def carried_out(self, draft: Draft) -> Draft:
        sleeve = draft.piece(SLEEVE)
        cap = sleeve.edge(CAP)
        require_no_dart(cap)
        for pleat in sleeve.pleats:
            if CAP in (pleat.edge, pleat.ends):
                reason = said("is-pleated", pleats=pleat.name)
                raise DoesNotFit(reason, said("cut-before-pleats"), SLEEVE, CAP)
        _require_whole(draft)
        front = self._parted(draft.piece(FRONT), self.front_neck, self.front_at, self.front_curve)
        back = self._parted(draft.piece(BACK), self.back_neck, self.back_at, self.back_curve)
        raglan = Raglan(cap.parts[0], front.laid_as, back.laid_as)
        for each in (front, back):
            if each.laid_as.rest > cap.length / 2:
                reason = said("raglan-beyond-crown", rest=each.laid_as.rest, cap=cap.length)
                raise DoesNotFit(reason, said("raglan-lower"), each.lower.name, ARMHOLE)
        drawn = raglan_sleeve(
            sleeve,
            self._raglan(raglan),
            front,
            back,
            with_marks=self.takes_marks,
            notched_from_line=self.notched_from_line,
        )
        return _sewn(draft, drawn, front, back)

    def _raglan(self, raglan: Raglan) -> LaidRaglan:
        laid = raglan.found(self.rise)
        if laid is not None:
            return laid
        possible = raglan.possible()
        if possible is None:
            reason = said("raglan-tight" if raglan.reach else "raglan-apart")
            raise DoesNotFit(reason, said("raglan-nearer"), SLEEVE, CAP)
        least, most = possible
        reason = said("raglan-rise", rise=self.rise)
        raise DoesNotFit(reason, said("raglan-rises", least=least, most=most), SLEEVE, CAP)

    def _parted(
        self, piece: Piece, from_neck: float, at: Position | None, out: float | None
    ) -> Parted:
        try:
            return parted(piece, from_neck, at, out)
        except DoesNotFit as refusal:
            raise refusal.at(piece.name) from refusal

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return SLEEVE, CAP

    def in_words(self, unit: Unit) -> str:
        front, back = (format_length(each, unit) for each in (self.front_neck, self.back_neck))
        side = f" on the {self.side}" if self.side else ""
        return (
            f"cut a raglan sleeve, its lines {front} in front and {back} behind "
            f"from the neck point{side}"
        )

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()


def _require_whole(draft: Draft) -> None:
    """Raise DoesNotFit where a piece was cut apart, or another is drafted to what goes over."""
    for name in (FRONT, BACK, SLEEVE):
        parts = draft.parts_of(name)
        if len(parts) > 1:
            named = ", ".join(part.name for part in parts)
            raise DoesNotFit(said("is-cut-apart", parts=named), said("change-before-cut"), name)
    over = {f"{name}.{edge}" for name in (FRONT, BACK) for edge in (SHOULDER, NECK, ARMHOLE)}
    for to in draft.drafted:
        if lost := {*over, f"{SLEEVE}.{CAP}"}.intersection(lines_of(to)):
            reason = said("drafted-to-it", piece=to.piece, line=min(lost))
            raise DoesNotFit(reason, said("drop-it-first", piece=to.piece))


# --- how it is sewn -------------------------------------------------------------------------------


def _sewn(draft: Draft, sleeve: Piece, front: Parted, back: Parted) -> Draft:
    """Return the draft with the new pieces, and what is sewn where now."""
    lowers = front.lower, back.lower
    gone = {f"{piece.name}.{SHOULDER}" for piece in lowers} | {f"{SLEEVE}.{CAP}"}
    corners = {piece.name: {edge.starts_at for edge in piece.edges} for piece in lowers}
    joins = [_of_cap(join, sleeve) for join in draft.joins]
    return replace(
        draft.with_pieces(*lowers, sleeve),
        seams=(
            *(seam for seam in draft.seams if not gone.intersection(map(str, seam.runs))),
            *(_seam(sleeve, piece) for piece in lowers),
        ),
        joins=(
            *(
                join
                for join in joins
                if all(end[2] in corners.get(end[0], {end[2]}) for end in (join.first, join.second))
            ),
            *(
                Join(
                    f"neck-at-raglan-{piece.name}",
                    (piece.name, NECK, AT_NECK),
                    (SLEEVE, NECK, f"{piece.name}-{NECK}"),
                )
                for piece in lowers
            ),
        ),
    )


def _of_cap(join: Join, sleeve: Piece) -> Join:
    """Return a join of the cap at its lower ends as one of what is left of the cap there."""

    def now(end: tuple[str, str, str]) -> tuple[str, str, str]:
        if end[:2] != (SLEEVE, CAP):
            return end
        name = "cap-front" if sleeve.edge("cap-front").starts_at == end[2] else "cap-back"
        return SLEEVE, name, end[2]

    return replace(join, first=now(join.first), second=now(join.second))


def _seam(sleeve: Piece, piece: Piece) -> Seam:
    """Return the seam of a raglan line, walked from the underarm to the neck."""
    name, corner = piece.name, f"{piece.name}-{LINE}"

    def run(of: Piece, edge: str, *, up_from: str = "", up_to: str = "") -> Run:
        line = of.edge(edge)
        return Run(of.name, edge, backwards=up_from == line.ends_at or up_to == line.starts_at)

    return Seam(
        f"{LINE}-{name}-seam",
        (
            run(sleeve, f"{CAP}-{name}", up_to=corner),
            run(sleeve, f"{LINE}-{name}", up_from=corner),
        ),
        (run(piece, ARMHOLE, up_to=AT_ARMHOLE), run(piece, LINE, up_from=AT_ARMHOLE)),
        EVEN,
        (Section("underarm", EVEN, (corner, AT_ARMHOLE)), Section(LINE, EVEN)),
    )
