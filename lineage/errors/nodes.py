"""What can go wrong with blocks, patterns, garments and what their files say."""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.geometry.said import Said, parts
from trueup.lineage.errors.root import BadInput, Damaged, listed, quoted, told

_LONGEST_RING = 8  # names of a ring that a sentence shows


@dataclass(eq=False)
class NoSuchNode(BadInput):
    """No block or pattern has this name."""

    name: str
    nearest: Sequence[str]

    def __str__(self) -> str:
        if not self.nearest:
            return f'There is no "{quoted(self.name)}": the wardrobe is empty; draft a block.'
        return f'There is no block or pattern "{quoted(self.name)}"; try {listed(self.nearest)}.'


@dataclass(eq=False)
class NoSuchGarment(BadInput):
    """No garment has this name."""

    name: str
    nearest: Sequence[str]

    def __str__(self) -> str:
        if not self.nearest:
            return f'There is no garment "{quoted(self.name)}": none was cut; record one.'
        return f'There is no garment "{quoted(self.name)}"; try {listed(self.nearest)}.'


@dataclass(eq=False)
class NameTaken(BadInput):
    """A block, pattern or garment of this name is there already."""

    name: str
    path: str

    def __str__(self) -> str:
        return f"{quoted(self.name)} is already in {quoted(self.path)}; take another name."


@dataclass(eq=False)
class BadName(BadInput):
    """A name that cannot be a file name and a word on the command line."""

    name: str

    def __str__(self) -> str:
        return (
            f'"{quoted(self.name)[:60]}" cannot be a name; use small letters, digits and '
            "hyphens, beginning with a letter, at most 60."
        )


@dataclass(eq=False)
class NoSuchStep(BadInput):
    """The chain of a node has no step of this id."""

    node: str
    step: str
    known: Sequence[str]

    def __str__(self) -> str:
        start = f'"{quoted(self.step)}" is no step of {quoted(self.node)}'
        return f"{start}; it has {listed(self.known)}." if self.known else f"{start}: it has none."


@dataclass(eq=False)
class NoSuchConflict(BadInput):
    """No node has a conflict of this id; it may be in one of the files that are `unreadable`."""

    conflict: str
    known: Sequence[str]
    unreadable: Sequence[str] = ()

    def __str__(self) -> str:
        start = f'There is no conflict "{quoted(self.conflict)}" to decide'
        if self.unreadable:
            start += f" outside of {listed(self.unreadable)}, which cannot be read"
        return (
            f"{start}; open are {listed(self.known)}." if self.known else f"{start}: none is open."
        )


@dataclass(eq=False)
class NothingToDecide(BadInput):
    """A conflict on which nothing is left to decide; `state` is settled or accepted."""

    conflict: str
    node: str
    state: str
    decided: Sequence[str]

    def __str__(self) -> str:
        how = f" by {quoted(self.decided[-1])}" if self.decided else ""
        return (
            f"{self.conflict} at {quoted(self.node)} is {self.state} already{how}, so there is "
            "nothing left to decide; look at the conflicts that are open."
        )


@dataclass(eq=False)
class NoSuchRemedy(BadInput):
    """A conflict does not offer this remedy."""

    conflict: str
    remedy: str
    offered: Sequence[str]

    def __str__(self) -> str:
        return (
            f'{self.conflict} cannot be settled by "{quoted(self.remedy)}"; '
            f"choose {listed(self.offered)}."
        )


@dataclass(eq=False)
class NothingToChange(BadInput):
    """What was asked for is as it is already."""

    reason: str

    def __str__(self) -> str:
        return f"{quoted(self.reason)}, so nothing was recorded; see what is there with `tree`."


@dataclass(eq=False)
class CannotStep(BadInput):
    """A step that the geometry cannot carry out where it was asked for."""

    node: str
    reason: Said | str

    @property
    def says(self) -> Said:
        """Return node and reason."""
        return parts(f"On {quoted(self.node)}: ", self.reason)

    def __str__(self) -> str:
        return f"{self.says}."


@dataclass(eq=False)
class NotDrafted(BadInput):
    """A node that is drafted from no measurements; `blocks` are those it derives from that are."""

    node: str
    blocks: Sequence[str]

    def __str__(self) -> str:
        start = f"{quoted(self.node)} is not drafted from measurements itself"
        if not self.blocks:
            return (
                f"{start}, nor is what it derives from: it came as a drawing; correct it instead."
            )
        return f"{start}; re-measure what it derives from: {listed(self.blocks)}."


@dataclass(eq=False)
class TooManyVersions(BadInput):
    """An answer for which more versions would have to be measured anew than anyone waits for."""

    most: int

    def __str__(self) -> str:
        return (
            f"More than {self.most:,} versions would be measured anew for this; ask for a later or "
            "shorter part of the history."
        )


@dataclass(eq=False)
class PieceTwice(BadInput):
    """Two parents would give a node the same piece."""

    piece: str
    first: str
    second: str

    def __str__(self) -> str:
        return (
            f"{quoted(self.piece)} would come from {quoted(self.first)} and from "
            f"{quoted(self.second)}; name the pieces that each of them gives."
        )


@dataclass(eq=False)
class BadFitting(BadInput):
    """A file of corrections that does not say what it should."""

    place: str
    reason: Said | str

    @property
    def says(self) -> Said:
        """Return place and reason, and what helps."""
        return parts(f"{quoted(self.place)} is no fitting: ", told(self.reason), "; mend the file")

    def __str__(self) -> str:
        return f"{self.says}."


@dataclass(eq=False)
class BadRecord(Damaged):
    """A file of the wardrobe that does not say what it should: file, table, field and problem."""

    place: str
    reason: Said | str
    table: str = ""
    field: str = ""

    @property
    def says(self) -> Said:
        """Return file, table and field, the reason, and what helps."""
        where = [f"table {self.table}"] if self.table else []
        where += [f"field {self.field}"] if self.field else []
        inside = f" ({', '.join(quoted(word) for word in where)})" if where else ""
        named = f"{quoted(self.place)}{inside} cannot be read: "
        return parts(named, told(self.reason), f"; {self.remedy}")

    @property
    def remedy(self) -> str:
        """Return what helps."""
        return "mend the file, or put back its last version"


@dataclass(eq=False)
class MayNotRead(BadRecord):
    """A file of the wardrobe that the maker may not read, or not where it is stored (`closed`)."""

    closed: str = ""

    @property
    def remedy(self) -> str:
        """Return what helps."""
        return f"allow reading {quoted(self.closed) or 'it'} and try again"

    @property
    def may_be_whole(self) -> bool:
        """Return that nothing is known against it."""
        return True


@dataclass(eq=False)
class MissingParent(BadRecord):
    """A node names a parent that is not there."""

    def __init__(self, place: str, parent: str, nearest: Sequence[str]) -> None:
        reason = f'its parent "{parent}" is not there'
        super().__init__(
            place, f"{reason}; try {listed(nearest)}" if nearest else reason, "parents"
        )
        self.parent = parent
        self.nearest = nearest


@dataclass(eq=False)
class Cycle(BadRecord):
    """Nodes that derive from each other in a ring."""

    def __init__(self, place: str, nodes: Sequence[str]) -> None:
        shown = nodes if len(nodes) <= _LONGEST_RING else (*nodes[: _LONGEST_RING - 1], "...")
        ring = " -> ".join((*shown, nodes[0]))
        super().__init__(place, f"patterns cannot derive from themselves: {ring}", "parents")
        self.nodes = nodes


@dataclass(eq=False)
class StandsOnUnreadable(Damaged):
    """A node that can be read itself, and derives from one that cannot; `cause` says of that why.

    `place` is its own file, `reason` says from which node it derives.
    """

    cause: Damaged

    @property
    def says(self) -> Said:
        """Return the node, from which it derives, and what is said of that."""
        start = f"{quoted(self.place)} cannot be worked out: "
        return parts(start, told(self.reason), ", and ", self.cause.says)

    @property
    def may_be_whole(self) -> bool:
        """Return whether that other may be whole."""
        return self.cause.may_be_whole


@dataclass(eq=False)
class VerdictUnknown(Damaged):
    """A step that was not made: what becomes of a node that cannot be read could not be told."""

    node: str
    cause: Damaged

    @property
    def says(self) -> Said:
        """Return why nothing was recorded, and what is said of what cannot be read."""
        ends = f" {quoted(self.node)} and what becomes of it could not be told: "
        return parts("Nothing was recorded, for ", told(self.reason), ends, self.cause.says)

    @property
    def may_be_whole(self) -> bool:
        """Return whether the node may be whole."""
        return self.cause.may_be_whole
