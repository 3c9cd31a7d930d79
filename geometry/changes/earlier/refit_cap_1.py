"""refit-cap, version 1: the cap was solved as a whole, whatever each half of the armhole asked."""

from dataclasses import dataclass

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.measuring.measures import CAP_EASE, CAP_SEAM
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.sleeve_cap import crown, scaled
from trueup.geometry.redrawing.sleeves.refitting import IN_WORDS
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE, recut
from trueup.geometry.said import said

WIDTH, HEIGHT, BOTH = "width", "height", "both"
WAYS = (WIDTH, HEIGHT, BOTH)

_SMALLEST, _LARGEST = -0.4, 0.8
"""A cap is refitted between 0.6 and 1.8 of its size; beyond it is another sleeve."""

_EXACT = 1e-7


@kind("refit-cap")
class FirstRefitCap(Change):
    """Make the sleeve cap so long that it holds the wanted ease over the armhole as it now is.

    In width, both underarm points move out equally and the sleeve seams taper back to nothing at
    the hem; in height, the crown rises or sinks; in both, the cap is scaled alike. Without a
    wanted ease the cap is brought to the nearest one that the armhole seam allows, and left alone
    when it is allowed already. The armhole, the hem and the match of the sleeve seams stay.
    """

    phrases = ("refit the sleeve cap",)

    to: float | None = length("wanted cap ease; the nearest allowed unless given", None, low=-200)
    how: str = name("what of the cap may change", BOTH, choices=WAYS, says=IN_WORDS)

    def carried_out(self, draft: Draft) -> Draft:
        sleeve = draft.piece(SLEEVE)
        refit = _cap_refit(draft, self.to, self.how)
        if not (refit.width or refit.height):
            return draft
        changed = recut(sleeve, refit.width / 2, refit.height)
        return draft.with_pieces(changed)

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return SLEEVE, "cap"

    @property
    def trues(self) -> bool:
        return True

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.cap", CAP_EASE)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.biceps-width", f"{SLEEVE}.cap-height")


@dataclass(frozen=True)
class _CapRefit:
    """How a cap meets a wanted ease: the `ease`, and the change in `width` and `height`, mm."""

    ease: float
    width: float
    height: float

    @property
    def amount(self) -> float:
        """Return the change in width, or in height where the width stays, mm."""
        return self.width or self.height


def _wanted_ease(draft: Draft) -> float:
    """Return the cap ease nearest to the present one that the armhole seam allows, mm."""
    seam = draft.seam(CAP_SEAM)
    return seam.allowed.nearest(walk(draft, seam).ease)


def _cap_refit(draft: Draft, to: float | None = None, how: str = BOTH) -> _CapRefit:
    """Return the change in width and height that brings the cap to an ease of `to` mm, to 1e-6.

    `to` is the nearest allowed ease unless given. `how` is width, height or both, which scales
    the cap alike in both. Raises NoSuchName without sleeve or armhole, BadParameter for another
    way, DoesNotFit, with the eases that can be had, when the cap would leave its sane size.
    """
    if how not in WAYS:
        raise BadParameter("how", how, said("one-of", choices=", ".join(WAYS)))
    sewn = walk(draft, draft.seam(CAP_SEAM))
    ease = _wanted_ease(draft) if to is None else to
    if abs(sewn.ease - ease) <= _EXACT:
        return _CapRefit(ease, 0.0, 0.0)
    cap = closed(draft.edge(SLEEVE, "cap")).chain
    top = crown(cap)
    width = top.before + top.after if how != HEIGHT else 0.0
    height = abs(top.rise) if how != WIDTH else 0.0
    others = sewn.ease - cap.length

    def missing(share: float) -> float:
        return scaled(cap, share * width / 2, share * height).chain.length + others - ease

    low, high = _smallest_share(top.before, top.after, width), _LARGEST
    share = root_between(missing, low, high, _EXACT)
    if share is None:
        least, most = missing(low) + ease, missing(high) + ease
        raise DoesNotFit(
            said("another-size", ease=ease),
            said("ease-from-to", how=_spoken(how), least=least, most=most),
            largest=most if ease > most else least,
        )
    return _CapRefit(ease, share * width, share * height)


def _smallest_share(before: float, after: float, width: float) -> float:
    """Return how far a cap may shrink, so that its narrower half keeps some width."""
    if not width:
        return _SMALLEST
    return max(_SMALLEST, -0.9 * 2 * min(before, after) / width)


def _spoken(how: str) -> str:
    return "width and height" if how == BOTH else how
