"""cut-in-one-sleeve: draw the sleeve in one with front and back, sewn over and under the arm."""

from dataclasses import replace
from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, number
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.redrafting import lines_of
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.pieces.bodice import BACK, FRONT
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.sleeve_cap import crown
from trueup.geometry.redrawing.darts import require_no_dart
from trueup.geometry.redrawing.sleeves.in_one import (
    ARMHOLE,
    AT_OVERARM,
    AT_UNDERARM,
    ELBOW,
    OVERARM,
    SHOULDER,
    UNDERARM,
    WRIST,
    InOne,
)
from trueup.geometry.redrawing.sleeves.sleeve import FRONT_SEAM, SLEEVE
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH, TIGHTEST_RADIUS
from trueup.geometry.units import Unit, format_length

_CAP, _HEM = "cap", "hem"
_STEEPEST, _ASIDE = 75.0, 25.0
_LEAST_WEDGE = 12.0
"""Sleeve and side are at least so far apart, degrees: below it neither can be cut or sewn."""

_HALVINGS = 24


@kind("cut-in-one-sleeve")
class CutInOneSleeve(Change):
    """Draw the sleeve in one with front and back, sewn over and under the arm: a kimono sleeve.

    The shoulder goes on as the overarm, which bends over the shoulder bone and slopes `slope`
    degrees below it in front. It is as long as the sleeve is from its crown to its hem; front and
    back of the wrist are as wide as the hem was before and behind the crown. The underarm runs
    from there to the side seam, `low` below the old underarm point, and comes down it in a curve
    that sets out `rounded` before and ends as far below; with nothing rounded it meets the side in
    a corner, into which a gusset is set by `insert-gusset`. The back slopes by as much as it takes
    until its underarm is as long as the one in front.

    Overarm and underarm are notched at the elbow, where the sleeve knows its level.

    The more it slopes, the closer it lies under the arm, and the less the arm can be lifted; a
    sleeve of little slope wants no gusset, a steep one does (common practice, no source).

    Neck, shoulder, side, hem and centre stay edges of front and back, which have `overarm`,
    `wrist` and `underarm` besides; the sleeve is a piece no more. So a correction of neck,
    shoulder, side or width arrives. Armhole and cap are gone: what a correction means there, or on
    the sleeve, is lost on this pattern and says so, also where its length or width came along.

    Darts on shoulder and armhole are turned or released first, and the sleeve is tapered before.
    """

    of_parts: ClassVar[bool] = True
    phrases = ("cut the sleeve in one",)

    slope: float = number(
        "how far the overarm slopes below the shoulder in front, degrees", 15.0, low=0, high=60
    )
    low: float = length(
        "how far below the underarm point the sleeve comes to the side seam", 30.0, low=0, high=200
    )
    rounded: float = length(
        "how far to either side of where they meet underarm and side are rounded", 60.0,
        low=0, high=150,
    )  # fmt: skip

    def carried_out(self, draft: Draft) -> Draft:
        sleeve = draft.piece(SLEEVE)
        cap, hem = sleeve.edge(_CAP), sleeve.edge(_HEM)
        _require_plain(draft)
        require_no_dart(cap)
        top = crown(cap.parts[0])
        for name in (FRONT, BACK):
            for edge in (SHOULDER, ARMHOLE):
                try:
                    require_no_dart(draft.edge(name, edge), said("turn-off-upper"))
                except DoesNotFit as refusal:
                    raise refusal.at(name) from refusal
        seam = sleeve.edge(FRONT_SEAM)
        long = abs(top.rise) + abs(seam.end - seam.start)
        share = top.before / (top.before + top.after)
        elbow = None
        if sleeve.has_level(ELBOW):
            elbow = max(seam.start.imag, seam.end.imag) - sleeve.level(ELBOW).y
        flat = InOne(
            draft.piece(FRONT), long, hem.length * share, 0.0, self.low, self.rounded, elbow
        )
        front = self._front(flat)
        wide = hem.length - flat.wide
        back = self._back(replace(flat, piece=draft.piece(BACK), wide=wide), front)
        drawn = [self._drawn(each) for each in (front, back)]
        return _sewn(draft, sleeve, *drawn)

    def _front(self, flat: InOne) -> InOne:
        def sloped(slope: float) -> InOne:
            return replace(flat, slope=slope)

        piece, found = flat.piece, sloped(self.slope)
        if _fits(found):
            return found
        least, most = 0.0, self.slope
        if not _fits(sloped(least)):
            reason = said("sleeve-over-side", degrees=f"{self.slope:g}")
            raise DoesNotFit(reason, said("narrower-or-less-round"), piece.name, ARMHOLE)
        for _ in range(_HALVINGS):
            middle = (least + most) / 2
            least, most = (middle, most) if _fits(sloped(middle)) else (least, middle)
        reason = said("sleeve-over-side", degrees=f"{self.slope:g}")
        possible = said("slope-at-most", degrees=f"{int(least * 10) / 10:g}")
        raise DoesNotFit(reason, possible, piece.name, ARMHOLE)

    def _back(self, flat: InOne, front: InOne) -> InOne:
        def sloped(slope: float) -> InOne:
            return replace(flat, slope=slope)

        def longer(slope: float) -> float:
            return sloped(slope).underarm.length - front.underarm.length

        low, high = max(self.slope - _ASIDE, 0.0), min(self.slope + _ASIDE, _STEEPEST)
        found = root_between(longer, low, high, SAME_LENGTH)
        if found is None or not _fits(sloped(found)):
            off = min((longer(low), longer(high)), key=abs)
            reason = said("underarms-differ", by=abs(off))
            raise DoesNotFit(reason, said("another-slope"), flat.piece.name, ARMHOLE)
        return sloped(found)

    def _drawn(self, half: InOne) -> Piece:
        try:
            drawn = half.drawn()
        except DoesNotFit as refusal:
            raise refusal.at(half.piece.name) from refusal
        if not drawn.is_simple:
            raise DoesNotFit(said("outline-crosses"), said("another-slope"), drawn.name, ARMHOLE)
        return drawn

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return SLEEVE, _CAP

    def in_words(self, unit: Unit) -> str:
        low = format_length(self.low, unit)
        side = f" on the {self.side}" if self.side else ""
        return (
            f"cut the sleeve in one with front and back, sloped by {self.slope:g} degrees, its "
            f"underarm {low} lower{side}"
        )

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()


def _fits(half: InOne) -> bool:
    return half.wedge > _LEAST_WEDGE and half.room > 0 and half.radius > TIGHTEST_RADIUS


def _require_plain(draft: Draft) -> None:
    """Raise DoesNotFit where a piece was cut apart, or another is drafted to what will be gone."""
    for name in (FRONT, BACK, SLEEVE):
        parts = draft.parts_of(name)
        if len(parts) > 1:
            named = ", ".join(part.name for part in parts)
            raise DoesNotFit(said("is-cut-apart", parts=named), said("change-before-cut"), name)
    gone = {f"{name}.{ARMHOLE}" for name in (FRONT, BACK)}
    gone |= {f"{SLEEVE}.{edge}" for edge in draft.piece(SLEEVE).edge_names}
    for to in draft.drafted:
        if lost := gone.intersection(lines_of(to)):
            reason = said("drafted-to-it", piece=to.piece, line=min(lost))
            raise DoesNotFit(reason, said("drop-it-first", piece=to.piece))


# --- how it is sewn -------------------------------------------------------------------------------


def _sewn(draft: Draft, sleeve: Piece, front: Piece, back: Piece) -> Draft:
    """Return the draft without the sleeve, with what is sewn where now."""
    stated = dict(sleeve.allowances)
    given = {OVERARM: FRONT_SEAM, UNDERARM: FRONT_SEAM, WRIST: _HEM}
    own = tuple((edge, stated[of]) for edge, of in given.items() if of in stated)
    halves = [replace(each, allowances=(*each.allowances, *own)) for each in (front, back)]
    left = (name for name in draft.piece_names if name != SLEEVE)
    changed = draft.with_pieces(*halves).only(left)
    gone = {f"{name}.{ARMHOLE}" for name in (FRONT, BACK)}
    return replace(
        changed,
        seams=(
            *(seam for seam in changed.seams if not gone.intersection(map(str, seam.runs))),
            *(
                Seam(f"{name}-seam", (Run(FRONT, name),), (Run(BACK, name),))
                for name in (OVERARM, UNDERARM)
            ),
        ),
        joins=(
            *(j for j in changed.joins if ARMHOLE not in (j.first[1], j.second[1])),
            Join("wrist-at-overarm", (FRONT, WRIST, AT_OVERARM), (BACK, WRIST, AT_OVERARM)),
            Join("wrist-at-underarm", (FRONT, WRIST, AT_UNDERARM), (BACK, WRIST, AT_UNDERARM)),
        ),
    )
