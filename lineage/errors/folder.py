"""What can go wrong with the folder, its files and its versions."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from trueup.geometry.said import Said, parts
from trueup.lineage.errors.root import BadInput, CannotWrite, listed, quoted, told


@dataclass(eq=False)
class NotAWardrobe(BadInput):
    """The folder holds no wardrobe."""

    folder: Path
    reason: str

    def __str__(self) -> str:
        return (
            f"{quoted(self.folder)} is not a wardrobe: {quoted(self.reason)}; name the "
            "wardrobe's own folder, or start a new one there."
        )


@dataclass(eq=False)
class LeadsElsewhere(NotAWardrobe):
    """Something in the folder would have git read, write or run what lies outside it."""

    hint: str

    def __str__(self) -> str:
        return f"{quoted(self.folder)} is not opened: {quoted(self.reason)}; {quoted(self.hint)}."


@dataclass(eq=False)
class FolderNotEmpty(BadInput):
    """A new wardrobe was asked for in a folder that already holds something."""

    folder: Path

    def __str__(self) -> str:
        return (
            f"{quoted(self.folder)} is not an empty folder, so no wardrobe was started there; "
            "name a new folder or an empty one."
        )


@dataclass(eq=False)
class UnknownRevision(BadInput):
    """The name or number does not point at one version of the wardrobe."""

    revision: str
    reason: str = "the history holds no such version"

    def __str__(self) -> str:
        return (
            f'There is no version "{quoted(self.revision)}": {quoted(self.reason)}; take one '
            "from the history, or HEAD for the latest."
        )


@dataclass(eq=False)
class NoSuchFile(BadInput):
    """The wardrobe holds no such file."""

    path: str

    def __str__(self) -> str:
        return f"The wardrobe holds no file {quoted(self.path)}; check its name and its folder."


@dataclass(eq=False)
class UnsafePath(BadInput):
    """A file name that could lead out of the wardrobe, or that git or a system refuses."""

    path: str
    reason: str

    def __str__(self) -> str:
        return (
            f"The file name {quoted(self.path)} cannot be used in a wardrobe: "
            f"{quoted(self.reason)}; give the file another name or take it out."
        )


@dataclass(eq=False)
class CannotKeep(BadInput):
    """A step after which a file would hold what is refused when it is read."""

    path: str
    reason: Said | str

    @property
    def says(self) -> Said:
        """Return the file and the reason, and what to do."""
        nothing = "; nothing was recorded: take out of it what is no longer needed first"
        return parts(
            f"{quoted(self.path)} could not be read after it: ", told(self.reason), nothing
        )


@dataclass(eq=False)
class FileTooLarge(BadInput):
    """A file put into a wardrobe that is larger than any that is ever read, `largest` in bytes."""

    path: str
    largest: int

    def __str__(self) -> str:
        return (
            f"{quoted(self.path)} is larger than {self.largest // 1_000_000} MB, and nothing in "
            "a wardrobe is; move it to another place and try again."
        )


@dataclass(eq=False)
class HandEdited(BadInput):
    """Files a step would write were changed by hand and those changes are not recorded."""

    paths: Sequence[str]

    def __str__(self) -> str:
        names = listed(self.paths)
        return (
            f"Changed by hand since the last step: {names}; record these changes as a step of "
            "their own or put the files back, then try again."
        )


@dataclass(eq=False)
class MovedOn(BadInput):
    """Another step was recorded since the wardrobe was read."""

    expected: str
    found: str

    def __str__(self) -> str:
        return (
            f"The wardrobe moved on from {self.expected[:10]} to {self.found[:10]} while this step "
            "was prepared, so nothing was recorded; run it again on the new version."
        )


@dataclass(eq=False)
class Busy(BadInput):
    """Another writer holds the wardrobe."""

    folder: Path
    holder: str

    def __str__(self) -> str:
        return (
            f"{quoted(self.folder)} is being written to by {quoted(self.holder)}, so nothing "
            "was recorded; wait until it is done and try again."
        )


@dataclass(eq=False)
class Locked(BadInput):
    """A lock file that git leaves while it works is in the way; `age` in seconds, None if gone."""

    path: str
    age: float | None

    def __str__(self) -> str:
        since = "" if self.age is None else f" since {_in_words(self.age)}"
        return (
            f"{quoted(self.path)} has been there{since}: a git command is at work here, or one "
            "was killed; wait until it is done, or delete that file if no git runs, and try again."
        )


def _in_words(seconds: float) -> str:
    for length, word in ((86400, "days"), (3600, "hours"), (60, "minutes")):
        if seconds >= 2 * length:
            return f"{seconds / length:.0f} {word}"
    return f"{seconds:.0f} seconds"


@dataclass(eq=False)
class Detached(BadInput):
    """The wardrobe stands on one version and not on a branch, so a step would be lost."""

    folder: Path
    head: str

    def __str__(self) -> str:
        return (
            f"{quoted(self.folder)} stands on version {self.head[:10]} and not on a branch, so "
            "a new step would be lost; go back with `git switch main`, or keep this version with "
            "`git switch -c NAME`."
        )


@dataclass(eq=False)
class NothingToUndo(BadInput):
    """There is no step to take back."""

    reason: str

    def __str__(self) -> str:
        return f"There is nothing to undo: {quoted(self.reason)}; look at the history."


@dataclass(eq=False)
class GitMissing(BadInput):
    """Git is not installed, or not to be found."""

    def __str__(self) -> str:
        return "git is not to be found on this machine; install git and try again."


@dataclass(eq=False)
class WorkingFilesBehind(CannotWrite):
    """The step is safely recorded, but a file on disk could not follow it yet."""

    commit: str

    def __str__(self) -> str:
        return (
            f"{quoted(self.place)} could not follow the step ({quoted(self.reason)}): do not "
            "repeat the step, allow writing there, and the next command brings the file up to "
            f"date; it is recorded as {self.commit[:10]}."
        )


@dataclass(eq=False)
class EditsBehind(WorkingFilesBehind):
    """Edits by hand are safely recorded, but not the step that was to follow them."""

    def __str__(self) -> str:
        return (
            f"{quoted(self.place)} could not follow the step of your own edits "
            f"({quoted(self.reason)}), and the step you asked for is not recorded: allow writing "
            f"there and ask for it again; your edits are recorded as {self.commit[:10]}."
        )


@dataclass(eq=False)
class StepUnclear(CannotWrite):
    """Something failed while a step was recorded, and it cannot be seen how far it came."""

    def __str__(self) -> str:
        return (
            f"Cannot tell whether the step was recorded, because of {quoted(self.place)} "
            f"({quoted(self.reason)}): do not repeat it yet; the next command finishes the step "
            "or drops it, and its history says which."
        )
