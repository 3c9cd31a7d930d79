"""Why an edit by hand is not taken up as it stands.

BadInput                      asked for something that cannot be done        (exit 2)
├── OpenedEarlier             its editor did not know of what was recorded since
├── CutClothEdited            it changes a fact: what cloth was cut, or what was seen on it
├── NotAPicture               a photo that nobody could look at
├── TooMuchAtOnce             more than can be taken up in one step
└── NotEdited                 a file to be kept as it was edited, and it was not
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from trueup.lineage.errors import BadInput, listed, printable
from trueup.lineage.hand_edits.named import Named

_KEEP = "if it is right as it stands, keep it and say why"

_NOT_JOINED = {
    "nothing": "",
    "contradict": ", and what else it says contradicts what was recorded since it was opened",
    "old": ", and was opened too long ago to be joined with it",
}


@dataclass(eq=False)
class OpenedEarlier(BadInput):
    """A file edited in an editor that seems not to know of what was recorded since it was opened.

    `missing` is what taking it up would take out, `otherwise` what it would put back as before.
    `why` it is not joined with them: the edit brings `nothing` of its own, so it may as well be a
    step taken out by hand; the two `contradict` each other; or it is too `old` to tell.
    """

    path: str
    missing: Sequence[Named]
    otherwise: Sequence[Named]
    why: Literal["nothing", "contradict", "old"]

    def __str__(self) -> str:
        would = f"{self._effect()}{_NOT_JOINED[self.why]}"
        return (
            f"{printable(self.path)} as edited by hand would {would}: put it back and edit it "
            f"anew{self._by_step()}; {_KEEP}."
        )

    def _effect(self) -> str:
        effects = []
        if self.missing:
            effects.append(f"take out {_named(self.missing)}")
        if self.otherwise:
            effects.append(f"put back {_named(self.otherwise)} as before")
        return " and ".join(effects) or "take back what was recorded since it was opened"

    def _by_step(self) -> str:
        """Return how what was meant is done by a step of its own."""
        if any(each.is_step for each in self.missing):
            return ", or drop the step"
        return ", or amend the step" if any(each.is_step for each in self.otherwise) else ""


@dataclass(eq=False)
class CutClothEdited(BadInput):
    """An edit by hand of what is a fact; `what` says of it what is different now."""

    path: str
    what: str

    def __str__(self) -> str:
        return (
            f"{printable(self.path)} {self.what}, and cut cloth is a fact, so nothing was "
            f"recorded: put it back; {_KEEP}."
        )


@dataclass(eq=False)
class NotAPicture(BadInput):
    """A file among the photos that cannot be looked at, or is larger than a photo may be."""

    path: str
    reason: str

    def __str__(self) -> str:
        return (
            f"{printable(self.path)} is no photo to keep: {self.reason}; take it out of the "
            "folder, or put its last version back."
        )


@dataclass(eq=False)
class TooMuchAtOnce(BadInput):
    """Files put into a wardrobe by hand that are together more than one step may hold."""

    largest: int

    def __str__(self) -> str:
        return (
            "The files edited by hand since the last step hold more than "
            f"{self.largest // 1_000_000} MB together; move some of them out of the wardrobe, and "
            "put them in one part after the other, with a step after each."
        )


@dataclass(eq=False)
class NotEdited(BadInput):
    """A file that was to be kept as it was edited by hand, and is as the last step left it."""

    path: str
    edited: Sequence[str]

    def __str__(self) -> str:
        known = listed(self.edited) or "no file"
        return f"{printable(self.path)} is as the last step left it; edited by hand was {known}."


def _named(things: Sequence[Named]) -> str:
    return listed([str(each) for each in things])
