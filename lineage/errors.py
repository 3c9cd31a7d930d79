"""What can go wrong with a wardrobe, as one small tree.

    WardrobeError                 the root: anything a wardrobe can refuse
    ├── BadInput                  asked for something that cannot be done        (exit 2)
    │   ├── NotAWardrobe          the folder holds no wardrobe
    │   ├── FolderNotEmpty        a new wardrobe wants a folder of its own
    │   ├── UnknownRevision       no such version in the history
    │   ├── NoSuchFile            no such file in the wardrobe
    │   ├── UnsafePath            a file name that leads out of the folder, or is refused
    │   ├── HandEdited            a file was changed by hand since the last step
    │   ├── MovedOn               someone else's step came first
    │   ├── Busy                  another writer is at work
    │   ├── Detached              the wardrobe stands on an old version, not on a branch
    │   ├── NothingToUndo         there is no step to take back
    │   └── GitMissing            git is not installed
    ├── CannotWrite               disk full, read only, no permission            (exit 2)
    │   └── WorkingFilesBehind    the step is recorded, a file on disk could not follow
    └── Damaged                   what is stored cannot be read                  (exit 3)

Every error carries its facts as attributes; its `str()` is one sentence that says what is
wrong, where, and what to do.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path


def printable(text: object) -> str:
    """Return `text` on one line with everything a terminal could act on made visible.

    File names and git's own messages may come from a stranger's wardrobe.
    """
    return "".join(
        character if character.isprintable() else character.encode("unicode_escape").decode()
        for character in str(text).encode("utf-8", "backslashreplace").decode()
    )


@dataclass(eq=False)
class WardrobeError(Exception):
    """Anything a wardrobe can refuse; the root of this tree."""

    def __post_init__(self) -> None:
        # The facts are also the exception's args, so that it can be pickled and copied.
        self.args = tuple(getattr(self, name) for name in self.__dataclass_fields__)


@dataclass(eq=False)
class BadInput(WardrobeError):
    """What was asked for cannot be done; nothing was changed."""


@dataclass(eq=False)
class NotAWardrobe(BadInput):
    """The folder holds no wardrobe."""

    folder: Path
    reason: str

    def __str__(self) -> str:
        return (
            f"{printable(self.folder)} is not a wardrobe: {printable(self.reason)}; name the "
            "wardrobe's own folder, or start a new one there."
        )


@dataclass(eq=False)
class FolderNotEmpty(BadInput):
    """A new wardrobe was asked for in a folder that already holds something."""

    folder: Path

    def __str__(self) -> str:
        return (
            f"{printable(self.folder)} is not an empty folder, so no wardrobe was started there; "
            "name a new folder or an empty one."
        )


@dataclass(eq=False)
class UnknownRevision(BadInput):
    """The name or number does not point at one version of the wardrobe."""

    revision: str
    reason: str = "the history holds no such version"

    def __str__(self) -> str:
        return (
            f'There is no version "{printable(self.revision)}": {printable(self.reason)}; take one '
            "from the history, or HEAD for the latest."
        )


@dataclass(eq=False)
class NoSuchFile(BadInput):
    """The wardrobe holds no such file."""

    path: str

    def __str__(self) -> str:
        return f"The wardrobe holds no file {printable(self.path)}; check its name and its folder."


@dataclass(eq=False)
class UnsafePath(BadInput):
    """A file name that could lead out of the wardrobe, or that git or a system refuses."""

    path: str
    reason: str

    def __str__(self) -> str:
        return (
            f"The file name {printable(self.path)} cannot be used in a wardrobe: "
            f"{printable(self.reason)}; give the file another name or take it out."
        )


@dataclass(eq=False)
class HandEdited(BadInput):
    """Files a step would write were changed by hand and those changes are not recorded."""

    paths: Sequence[str]

    def __str__(self) -> str:
        names = ", ".join(printable(path) for path in self.paths)
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
            f"{printable(self.folder)} is being written to by {printable(self.holder)}, so nothing "
            "was recorded; wait until it is done and try again."
        )


@dataclass(eq=False)
class Detached(BadInput):
    """The wardrobe stands on one version and not on a branch, so a step would be lost."""

    folder: Path
    head: str

    def __str__(self) -> str:
        return (
            f"{printable(self.folder)} stands on version {self.head[:10]} and not on a branch, so "
            "a new step would be lost; go back with `git switch main`, or keep this version with "
            "`git switch -c NAME`."
        )


@dataclass(eq=False)
class NothingToUndo(BadInput):
    """There is no step to take back."""

    reason: str

    def __str__(self) -> str:
        return f"There is nothing to undo: {printable(self.reason)}; look at the history."


@dataclass(eq=False)
class GitMissing(BadInput):
    """Git is not installed, or not to be found."""

    def __str__(self) -> str:
        return "git is not to be found on this machine; install git and try again."


@dataclass(eq=False)
class CannotWrite(WardrobeError):
    """The disk is full, read only, or the maker may not write there; all is as before."""

    place: str
    reason: str

    def __str__(self) -> str:
        return (
            f"Cannot write {printable(self.place)}: {printable(self.reason)}; nothing was "
            "recorded, so make room or allow writing there and try again."
        )


@dataclass(eq=False)
class WorkingFilesBehind(CannotWrite):
    """The step is safely recorded, but a file on disk could not follow it yet."""

    commit: str

    def __str__(self) -> str:
        return (
            f"The step is recorded as {self.commit[:10]}, but {printable(self.place)} could not "
            f"follow ({printable(self.reason)}); do not repeat the step: allow writing there, and "
            "the next command brings the file up to date."
        )


@dataclass(eq=False)
class Damaged(WardrobeError):
    """What is stored cannot be read."""

    place: str
    reason: str

    def __str__(self) -> str:
        return (
            f"{printable(self.place)} is damaged: {printable(self.reason)}; restore it from a copy "
            "or a clone."
        )


def _list(names: Sequence[str]) -> str:
    return ", ".join(printable(name) for name in names)


@dataclass(eq=False)
class NoSuchNode(BadInput):
    """No block or pattern has this name."""

    name: str
    nearest: Sequence[str]

    def __str__(self) -> str:
        if not self.nearest:
            return f'There is no "{printable(self.name)}": the wardrobe is empty; draft a block.'
        return f'There is no block or pattern "{printable(self.name)}"; try {_list(self.nearest)}.'


@dataclass(eq=False)
class NoSuchGarment(BadInput):
    """No garment has this name."""

    name: str
    nearest: Sequence[str]

    def __str__(self) -> str:
        if not self.nearest:
            return f'There is no garment "{printable(self.name)}": none was cut; record one.'
        return f'There is no garment "{printable(self.name)}"; try {_list(self.nearest)}.'


@dataclass(eq=False)
class NameTaken(BadInput):
    """A block, pattern or garment of this name is there already."""

    name: str
    path: str

    def __str__(self) -> str:
        return f"{printable(self.name)} is already in {printable(self.path)}; take another name."


@dataclass(eq=False)
class BadName(BadInput):
    """A name that cannot be a file name and a word on the command line."""

    name: str

    def __str__(self) -> str:
        return (
            f'"{printable(self.name)[:60]}" cannot be a name; use small letters, digits and '
            "hyphens, beginning with a letter, at most 60."
        )


@dataclass(eq=False)
class NoSuchStep(BadInput):
    """The chain of a node has no step of this id."""

    node: str
    step: str
    known: Sequence[str]

    def __str__(self) -> str:
        start = f'"{printable(self.step)}" is no step of {printable(self.node)}'
        return f"{start}; it has {_list(self.known)}." if self.known else f"{start}: it has none."


@dataclass(eq=False)
class NoSuchConflict(BadInput):
    """No node has a conflict of this id."""

    conflict: str
    known: Sequence[str]

    def __str__(self) -> str:
        start = f'There is no conflict "{printable(self.conflict)}" to decide'
        return (
            f"{start}; open are {_list(self.known)}." if self.known else f"{start}: none is open."
        )


@dataclass(eq=False)
class NoSuchRemedy(BadInput):
    """A conflict does not offer this remedy."""

    conflict: str
    remedy: str
    offered: Sequence[str]

    def __str__(self) -> str:
        return (
            f'{self.conflict} cannot be settled by "{printable(self.remedy)}"; '
            f"choose {_list(self.offered)}."
        )


@dataclass(eq=False)
class NothingToChange(BadInput):
    """What was asked for is as it is already."""

    reason: str

    def __str__(self) -> str:
        return f"{printable(self.reason)}, so nothing was recorded; see what is there with `tree`."


@dataclass(eq=False)
class CannotStep(BadInput):
    """A step that the geometry cannot carry out where it was asked for."""

    node: str
    reason: str

    def __str__(self) -> str:
        return f"On {printable(self.node)}: {self.reason}"


@dataclass(eq=False)
class PieceTwice(BadInput):
    """Two parents would give a node the same piece."""

    piece: str
    first: str
    second: str

    def __str__(self) -> str:
        return (
            f"{printable(self.piece)} would come from {printable(self.first)} and from "
            f"{printable(self.second)}; name the pieces that each of them gives."
        )


@dataclass(eq=False)
class BadFitting(BadInput):
    """A file of corrections that does not say what it should."""

    place: str
    reason: str

    def __str__(self) -> str:
        return f"{printable(self.place)} is no fitting: {printable(self.reason)}; mend the file."


@dataclass(eq=False)
class BadRecord(Damaged):
    """A file of the wardrobe that does not say what it should: file, table, field and problem."""

    place: str
    reason: str
    table: str = ""
    field: str = ""

    def __str__(self) -> str:
        where = [f"table {self.table}"] if self.table else []
        where += [f"field {self.field}"] if self.field else []
        inside = f" ({', '.join(printable(word) for word in where)})" if where else ""
        return (
            f"{printable(self.place)}{inside} cannot be read: {printable(self.reason)}; "
            "mend the file, or put back its last version."
        )


@dataclass(eq=False)
class MissingParent(BadRecord):
    """A node names a parent that is not there."""

    def __init__(self, place: str, parent: str, nearest: Sequence[str]) -> None:
        reason = f'its parent "{parent}" is not there'
        super().__init__(place, f"{reason}; try {_list(nearest)}" if nearest else reason, "parents")
        self.parent = parent
        self.nearest = nearest


@dataclass(eq=False)
class Cycle(BadRecord):
    """Nodes that derive from each other in a ring."""

    def __init__(self, place: str, nodes: Sequence[str]) -> None:
        ring = " -> ".join((*nodes, nodes[0]))
        super().__init__(place, f"patterns cannot derive from themselves: {ring}", "parents")
        self.nodes = nodes
