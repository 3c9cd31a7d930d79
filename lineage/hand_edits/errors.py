"""Why an edit by hand is not taken up as it stands.

BadInput                      asked for something that cannot be done        (exit 2)
├── OpenedEarlier             its editor did not know of what was recorded since
├── CutClothEdited            it changes a fact: what cloth was cut, or what was seen on it
├── NotAPicture               a photo that nobody could look at
├── TooMuchAtOnce             more than can be taken up in one step
└── NotEdited                 a file to be kept as it was edited, and it was not
"""

import shlex
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from trueup.lineage.errors import BadInput, listed, printable
from trueup.lineage.hand_edits.named import Named

_KEEP = "if it is right as it stands, say so with"

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
            f"{printable(self.path)} as edited by hand would {would}: put it back with "
            f"{_command('restore', self.path)} and edit it anew{self._by_verb()}; "
            f"{_KEEP} {_command('keep', self.path, '--why ...')}."
        )

    def _effect(self) -> str:
        effects = []
        if self.missing:
            effects.append(f"take out {_named(self.missing)}")
        if self.otherwise:
            effects.append(f"put back {_named(self.otherwise)} as before")
        return " and ".join(effects) or "take back what was recorded since it was opened"

    def _by_verb(self) -> str:
        """Return how a step is taken out, or changed, by the verb for it."""
        for each in self.missing:
            if each.is_step:
                verb = _command("drop", each.place, each.id)
                return f", or take the step out with {verb}"
        for each in self.otherwise:
            if each.is_step:
                verb = _command("amend", each.place, each.id, "...")
                return f", or change the step with {verb}"
        return ""


@dataclass(eq=False)
class CutClothEdited(BadInput):
    """An edit by hand of what is a fact; `what` says of it what is different now."""

    path: str
    what: str

    def __str__(self) -> str:
        return (
            f"{printable(self.path)} {self.what}, and cut cloth is a fact, so nothing was "
            f"recorded: put it back with {_command('restore', self.path)}; {_KEEP} "
            f"{_command('keep', self.path, '--why ...')}."
        )


@dataclass(eq=False)
class NotAPicture(BadInput):
    """A file among the photos that cannot be looked at, or is larger than a photo may be."""

    path: str
    reason: str

    def __str__(self) -> str:
        return (
            f"{printable(self.path)} is no photo to keep: {self.reason}; take it out of the "
            f"folder, or put its last version back with {_command('restore', self.path)}."
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


def _command(*words: str) -> str:
    quoted = (word if word.endswith("...") else shlex.quote(word) for word in words)
    return f"`trueup {printable(' '.join(quoted))}`"
