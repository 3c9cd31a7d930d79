"""refit-cap: solve the sleeve cap so that each half holds its ease over its half of the armhole."""

from dataclasses import replace
from functools import lru_cache
from typing import Any, cast

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import flag, length, name
from trueup.geometry.changes.wording import completed
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.redrawing.sleeves.refitting import (
    BOTH,
    IN_WORDS,
    WAYS,
    CapRefit,
    Refitting,
)
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@kind("refit-cap", version=2)
class RefitCap(Change):
    """Make the sleeve cap so long that each half holds its ease over its half of the armhole.

    The cap is walked from the front underarm to the crown notch, and on to the back underarm; of
    the wanted ease each half gets its share of what the armhole seam allows there. Without a wanted
    ease each half is brought to the nearest allowed, and left alone when it is allowed already. In
    width, both underarm points move out equally and the sleeve seams taper back to nothing at the
    hem; in height, the crown rises or sinks; in both, the cap is scaled alike; a given width is
    met, and the height follows. The crown moves to the side that asks for less. With `notch` the
    halves are not redrawn one by one: the crown notch moves along the cap instead.

    The cap runs on smoothly across the sleeve seam, and its other notches match those of the
    armhole. The armhole, the hem and the match of the sleeve seams stay.
    """

    phrases = ("refit the sleeve cap",)

    to: float | None = length("wanted cap ease; the nearest allowed unless given", None, low=-200)
    how: str = name("what of the cap may change", BOTH, choices=WAYS, says=IN_WORDS)
    width: float | None = length("wanted width at the biceps; the height follows", None, low=100)
    notch: bool = flag("move the crown notch instead of redrawing each half by itself")

    def __post_init__(self) -> None:
        if self.width is not None and self.how != BOTH:
            raise BadParameter("how", self.how, said("height-follows"))

    def in_words(self, unit: Unit) -> str:
        if not self.notch:
            return super().in_words(unit)
        whole = replace(cast(Any, self), notch=False)
        return completed(whole, "move the crown notch of the sleeve cap", unit)

    def carried_out(self, draft: Draft) -> Draft:
        refit = cap_refit(draft, self.to, self.how, self.width, notch=self.notch)
        if refit.sleeve is draft.piece(SLEEVE):
            return draft
        return draft.with_pieces(refit.sleeve)

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return SLEEVE, "cap"

    @property
    def trues(self) -> bool:
        return True

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.cap", CAP_EASE)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.biceps-width", f"{SLEEVE}.cap-height")


def cap_refit(
    draft: Draft,
    to: float | None = None,
    how: str = BOTH,
    width: float | None = None,
    *,
    notch: bool = False,
) -> CapRefit:
    """Return how the cap comes to an ease of `to` mm in all, each half having its share of it.

    `to` is the nearest allowed unless given. `how` is width, height or both; a given `width` (mm)
    is met instead. With `notch` the crown notch moves. Raises NoSuchName without sleeve or
    armhole, BadParameter for another way, DoesNotFit, with the eases that can be had, when the
    cap would leave its sane size.
    """
    if how not in WAYS:
        raise BadParameter("how", how, said("one-of", choices=", ".join(WAYS)))
    draft.piece(SLEEVE)
    return _refitted(Refitting(draft, how, width, notch), to)


@lru_cache(maxsize=8)  # a remedy that was worked out is tried out at once
def _refitted(job: Refitting, to: float | None) -> CapRefit:
    wanted = job.wanted(to)
    found = job.found(wanted)
    if found is not None:
        return found
    least, most = job.possible()
    ease = sum(wanted)
    raise DoesNotFit(
        said("another-size", ease=ease),
        said("ease-from-to", how=job.in_words, least=least, most=most),
        largest=most if ease > most else least,
    )
