"""Play a list of steps into a new wardrobe: every step one commit, worked out as any other is."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import msgspec

from geometry.changes import Change, kind_named, read_change
from geometry.units import Unit
from lineage.errors import NoSuchConflict
from lineage.records import BlockDraft, ConflictRecord, ParentRecord, Role
from lineage.wardrobe import Proposal, Wardrobe

_VERBS = ("draft", "derive", "style", "correct", "decide")


class Taken(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A parent in a list of steps: its name, and which of its pieces are taken."""

    name: str
    pieces: tuple[str, ...]


class Told(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One step of a list: one of the verbs with the node it is for, what goes into it, and why.

    `decide` takes the first conflict that waits at its node.
    """

    why: str
    draft: str | None = None
    derive: str | None = None
    style: str | None = None
    correct: str | None = None
    decide: str | None = None
    system: str = ""
    body: dict[str, str] = {}
    block: bool = False
    from_: str | tuple[Taken, ...] = msgspec.field(name="from", default=())
    changes: tuple[dict[str, Any], ...] = ()
    remedy: str = ""

    def __post_init__(self) -> None:
        if sum(getattr(self, verb) is not None for verb in _VERBS) != 1:
            raise ValueError(f"a step is one of {', '.join(_VERBS)}")


class Correction(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A correction that is told but not yet made: the node, its change, and why."""

    node: str
    change: dict[str, Any]
    why: str


class Story(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A wardrobe as the list of steps that builds it, and a correction to be tried on it."""

    name: str
    unit: str
    step: tuple[Told, ...]
    correction: Correction


def read_story(text: bytes) -> Story:
    """Return the story a TOML file tells; raises msgspec.DecodeError for what is none."""
    return msgspec.toml.decode(text, type=Story)


def play(story: Story, folder: Path, after_each: Callable[[], None] = lambda: None) -> None:
    """Start a wardrobe in a new or empty folder and play the steps into it, a commit each.

    Raises FolderNotEmpty, and whatever a step raises that cannot be carried out.
    """
    with Wardrobe.start(folder, story.name, story.unit) as wardrobe:
        for told in story.step:
            wardrobe.record(propose(wardrobe, told))
            after_each()


def propose(wardrobe: Wardrobe, told: Told) -> Proposal:
    """Propose what a step tells, against the wardrobe as it now is."""
    proposal = _proposed(wardrobe, told)
    return replace(proposal, edit=replace(proposal.edit, why=told.why))


def propose_correction(wardrobe: Wardrobe, told: Correction) -> Proposal:
    """Propose the correction that a story keeps for the end."""
    changes = _changes((told.change,), wardrobe.state.unit)
    return wardrobe.propose_steps(told.node, changes, Role.CORRECTION, told.why)


def _proposed(wardrobe: Wardrobe, told: Told) -> Proposal:
    if told.draft:
        return wardrobe.propose_block(told.draft, BlockDraft(told.system, told.body))
    if told.derive:
        return wardrobe.propose_child(told.derive, _parents(told), is_block=told.block)
    if told.decide:
        conflict = _waiting(wardrobe, told.decide)
        return wardrobe.propose_decision(conflict.id, told.remedy, told.why)
    changes = _changes(told.changes, wardrobe.state.unit)
    if told.style:
        return wardrobe.propose_steps(told.style, changes, Role.STYLE, told.why)
    return wardrobe.propose_steps(str(told.correct), changes, Role.CORRECTION, told.why)


def _parents(told: Told) -> Sequence[ParentRecord]:
    if isinstance(told.from_, str):
        return (ParentRecord(told.from_),)
    return tuple(ParentRecord(taken.name, taken.pieces) for taken in told.from_)


def _changes(written: Sequence[Mapping[str, Any]], unit: Unit) -> tuple[Change, ...]:
    """Return the changes written as tables, each with its kind among its parameters."""
    return tuple(
        read_change(
            kind_named(str(table.get("kind"))),
            {name: value for name, value in table.items() if name != "kind"},
            unit,
        )
        for table in written
    )


def _waiting(wardrobe: Wardrobe, node: str) -> ConflictRecord:
    waiting = wardrobe.state.node(node).open_conflicts
    if not waiting:
        raise NoSuchConflict(f"of {node}", [each.id for each in wardrobe.state.open_conflicts])
    return waiting[0]
