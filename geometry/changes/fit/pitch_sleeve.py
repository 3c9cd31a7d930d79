"""pitch-sleeve: turn a sleeve in its armhole, as the arm hangs."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import Most, length
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.forms import least_of, most_of
from trueup.geometry.measuring.measures import CAP_SEAM
from trueup.geometry.measuring.sections import sections_of
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.redrawing.sleeves.sleeve import CROWN_NOTCH, SLEEVE
from trueup.geometry.said import said
from trueup.geometry.tolerance import CLOTH_LEFT

_CAP, _FRONT = "cap", "front-underarm"


@kind("pitch-sleeve")
class PitchSleeve(Change):
    """Turn the sleeve in its armhole by an amount: forward, or backward when it is negative.

    Where folds twist down a sleeve the arm hangs farther forward, or back, than the sleeve was set.
    The notches of the cap move along it, away from the front underarm when it is turned forward, so
    that what lay behind the crown comes to the shoulder. No line is drawn anew: hem, seams and the
    ends of the cap stay. The front half of the armhole then holds so much more of the cap and the
    back half so much less, and the seam states it; the cap's ease in all is what it was.

    6 mm are usual (common practice, no source). A sleeve that is to turn farther wants a cap
    that is drawn for it, with `refit-cap`.
    """

    phrases = ("turn the sleeve forward", "turn the sleeve back")

    by: float = length(
        "how far it is turned forward along the cap", low=-40, high=40, zero=False, most=Most(13)
    )

    def carried_out(self, draft: Draft) -> Draft:
        sleeve, seam = draft.piece(SLEEVE), draft.seam(CAP_SEAM)
        cap = sleeve.edge(_CAP)
        marks = [notch for notch in sleeve.notches if notch.edge == _CAP]
        if CROWN_NOTCH not in {notch.name for notch in marks}:
            raise DoesNotFit(said("no-crown-notch", notch=CROWN_NOTCH), said("mark-first"))
        way = self.by if cap.starts_at == _FRONT else -self.by
        for notch in marks:
            left = min(notch.at.along(cap) + way, cap.length - notch.at.along(cap) - way)
            if left < CLOTH_LEFT:
                raise DoesNotFit(
                    said("notch-off-cap", notch=notch.name), said("smaller-amount"), edge=_CAP
                )
        notches = tuple(
            _moved(notch, cap, way) if notch.edge == _CAP else notch for notch in sleeve.notches
        )
        turned = draft.with_pieces(replace(sleeve, notches=notches))
        return turned.with_seam(_held(draft, seam, self.by))

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return SLEEVE, _CAP

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def drawn(self, draft: Draft) -> tuple[str, ...]:
        seam = draft.seam(CAP_SEAM)
        names = [f"{seam.name}.{each.name}" for each in sections_of(draft, seam)]
        return tuple(of(name) for name in names for of in (least_of, most_of))


def _moved(notch: Notch, cap: Edge, way: float) -> Notch:
    """Return a notch so much farther from the start of the cap, from its own corner as before."""
    return replace(notch, at=notch.at.moved_to(cap, notch.at.along(cap) + way))


def _held(draft: Draft, seam: Seam, by: float) -> Seam:
    """Return the seam whose first stretch may hold so much more of the cap, and its last less."""
    sections = list(sections_of(draft, seam))
    if len(sections) < 2:
        return seam
    first, last = sections[0], sections[-1]
    runs = {(run.piece, run.edge): run for run in seam.side}
    run = runs.get((SLEEVE, _CAP))
    cap = draft.edge(SLEEVE, _CAP)
    from_front = run is not None and (cap.starts_at == _FRONT) != run.backwards
    more = by if from_front else -by
    sections[0] = replace(first, allowed=first.allowed.moved(more, more))
    sections[-1] = replace(last, allowed=last.allowed.moved(-more, -more))
    return replace(seam, sections=tuple(sections))
