"""The root of the tree and its three boughs: bad input, cannot write, damaged."""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.geometry.said import Said, parts, text

_LONGEST_QUOTE = 400  # characters of one name or reason in a sentence
_MOST_LISTED = 40  # names in a sentence


def printable(text: object) -> str:
    """Return `text` on one line with everything a terminal could act on made visible.

    File names and git's own messages may come from a stranger's wardrobe.
    """
    whole = str(text)
    if whole.isprintable():
        return whole
    return "".join(
        character if character.isprintable() else character.encode("unicode_escape").decode()
        for character in whole.encode("utf-8", "backslashreplace").decode()
    )


def quoted(text: object) -> str:
    """Return `text` fit to stand in a sentence: printable, its middle left out where it is long."""
    whole = str(text)
    if len(whole) > _LONGEST_QUOTE:
        whole = f"{whole[: _LONGEST_QUOTE // 2]}…{whole[-_LONGEST_QUOTE // 4 :]}"
    return printable(whole)


def told(reason: Said | str) -> Said:
    """Return a reason to be part of what an error says: its facts, or a text that is printable."""
    return reason if isinstance(reason, Said) else text(quoted(reason))


def listed(names: Sequence[str]) -> str:
    """Return names in one sentence, printable; of very many only the first, and how many more."""
    told = ", ".join(quoted(name) for name in names[:_MOST_LISTED])
    more = len(names) - _MOST_LISTED
    return f"{told} and {more} more" if more > 0 else told


@dataclass(eq=False)
class WardrobeError(Exception):
    """Anything a wardrobe can refuse; the root of this tree.

    `unit` is the one the maker reads lengths in, where that is known; the facts have them in mm.
    """

    unit = "mm"

    @property
    def says(self) -> Said:
        """Return what there is to say of it; text where nothing in it is a length."""
        return text(str(self).removesuffix("."))

    def __post_init__(self) -> None:
        # The facts are also the exception's args, so that it can be pickled and copied.
        self.args = tuple(getattr(self, name) for name in self.__dataclass_fields__)


@dataclass(eq=False)
class BadInput(WardrobeError):
    """What was asked for cannot be done; nothing was changed."""


@dataclass(eq=False)
class CannotWrite(WardrobeError):
    """The disk is full, read only, or the maker may not write there; all is as before."""

    place: str
    reason: str

    def __str__(self) -> str:
        return (
            f"Cannot write {quoted(self.place)}: {quoted(self.reason)}; nothing was "
            "recorded, so make room or allow writing there and try again."
        )


@dataclass(eq=False)
class GitStopped(WardrobeError):
    """Git was stopped before it could answer; nothing follows from that about what is stored."""

    place: str
    reason: str

    def __str__(self) -> str:
        return (
            f"Git did not get to its end in {quoted(self.place)}: {quoted(self.reason)}; "
            "run the command again."
        )


@dataclass(eq=False)
class GitSlow(GitStopped):
    """Git took longer than it was given, and was stopped."""

    def __init__(self, place: str, command: str, seconds: float) -> None:
        super().__init__(place, f"`{command}` took longer than {seconds:g} s")
        self.args = (place, command, seconds)


RESTORE = "have the wardrobe restored, which says what is wrong and mends what can be mended"
"""What helps where something stored cannot be read."""


@dataclass(eq=False)
class Damaged(WardrobeError):
    """What is stored cannot be read."""

    place: str
    reason: Said | str

    @property
    def says(self) -> Said:
        """Return place and reason, and what helps."""
        return parts(f"{quoted(self.place)} is damaged: ", told(self.reason), f"; {RESTORE}")

    def __str__(self) -> str:
        return f"{self.says}."

    @property
    def may_be_whole(self) -> bool:
        """Return whether it may be whole, and only may not be read by this maker."""
        return False


@dataclass(eq=False)
class CannotRead(Damaged):
    """The maker may not read what is stored, or the disk does not give it; it may be whole."""

    @property
    def says(self) -> Said:
        """Return place and reason, and what helps."""
        helps = "; allow reading there and try again"
        return parts(f"Cannot read {quoted(self.place)}: ", told(self.reason), helps)

    @property
    def may_be_whole(self) -> bool:
        """Return that nothing is known against it."""
        return True


@dataclass(eq=False)
class BeyondLimits(Damaged):
    """What is stored, or lies on the disk, is more than is ever read: a mistake, or a trap."""

    @property
    def says(self) -> Said:
        """Return place and reason, and what helps."""
        helps = "; take it out, or go back to a version without it"
        return parts(f"{quoted(self.place)} is more than trueup reads: ", told(self.reason), helps)
