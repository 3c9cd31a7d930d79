"""Open the wardrobe a command names, for reading or for one step."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from cli.command_line import CommandLine
from cli.render.page import note
from lineage.evaluate import Evaluator
from lineage.state import State
from lineage.wardrobe import Proposal, Wardrobe


@dataclass(frozen=True)
class Reading:
    """A wardrobe open to be read, as it is or as of an earlier version."""

    wardrobe: Wardrobe
    evaluator: Evaluator
    commands: CommandLine

    @property
    def state(self) -> State:
        """Return the nodes as they are, or were."""
        return self.evaluator.state


@contextmanager
def reading(folder: Path | None, as_of: str | None = None) -> Iterator[Reading]:
    """Open a wardrobe to read it; says so when edits made by hand are part of the answer."""
    with Wardrobe.open(folder or Path()) as wardrobe:
        evaluator = wardrobe.evaluator if as_of is None else wardrobe.evaluator_at(as_of)
        yield Reading(wardrobe, evaluator, CommandLine(folder))
        # Only beside an answer: what cannot be answered is told in one sentence.
        if as_of is None:
            note_hand_edits(wardrobe)


def note_hand_edits(wardrobe: Wardrobe) -> None:
    """Say on stderr which files the maker edited by hand since the last step."""
    edited = [edit.path for edit in wardrobe.hand_edits()]
    if edited:
        note(f"Edited by hand and not yet a step, taken as they stand: {', '.join(edited)}.")


def record(wardrobe: Wardrobe, propose: Callable[[Wardrobe], Proposal]) -> tuple[Proposal, str]:
    """Record one step and return it with its commit's id.

    The maker's own edits become a step of their own before it; when the step cannot be made,
    neither is recorded.
    """
    with wardrobe.writing():
        proposal = propose(wardrobe)
        if take_up_hand_edits(wardrobe):
            proposal = propose(wardrobe)
        return proposal, wardrobe.record(proposal)


def take_up_hand_edits(wardrobe: Wardrobe) -> bool:
    """Make edits by hand a step of their own, and say so; returns whether there were any."""
    edited = [edit.path for edit in wardrobe.hand_edits()]
    if edited:
        wardrobe.take_up_hand_edits()
        note(f"Your own edits were taken up as a step of their own: {', '.join(edited)}.")
    return bool(edited)
