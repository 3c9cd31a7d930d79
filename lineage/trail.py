"""What a recorded step says about itself in the history, and which step is the last."""

import re
from collections.abc import Iterable
from itertools import chain
from typing import TYPE_CHECKING

from trueup.lineage.errors import NothingToUndo
from trueup.lineage.store import Commit

if TYPE_CHECKING:
    from trueup.lineage.replay.edits import Edit
    from trueup.lineage.replay.replay import Replay

UNDOES = "Undoes"
VERB = "Verb"
NODE = "Node"
STEPS = "Steps"
TAKES_OUT = "Takes-Out"
JOINED_WITH = "Joined-With"

_MOST_MEASURES = 12
_MEASURE = "{} {:.1f} -> {:.1f} mm"
MEASURE = re.compile(r"(?P<name>\S+) (?P<before>-?\d+\.\d) -> (?P<after>-?\d+\.\d) mm")
"""A line of a message that tells a measure, as `message` writes it."""

EDIT = "edit"
"""The verb of a step that took up edits by hand."""


def trailers(verb: str, edit: "Edit") -> dict[str, str]:
    """Return what a step says for programs to read: its verb, its node and its steps."""
    said = {VERB: verb, NODE: edit.node}
    return {**said, STEPS: " ".join(edit.ids)} if edit.ids else said


def message(edit: "Edit", replay: "Replay") -> str:
    """Return what a maker reads in the history: what was done, why, and what it did in mm.

    Of a great many measures, as where a block is drafted anew, those that changed most.
    """
    lines = [edit.subject]
    if edit.why:
        lines += ["", edit.why]
    moved = [
        each
        for each in replay.measures
        if each.before_mm is not None and each.after_mm is not None and abs(each.change_mm) > 0.05
    ]
    if len(moved) > _MOST_MEASURES:
        farthest = sorted(moved, key=lambda each: -abs(each.change_mm))[:_MOST_MEASURES]
        moved = [each for each in moved if each in farthest]
    measured = [_MEASURE.format(each.name, each.before_mm, each.after_mm) for each in moved]
    return "\n".join(chain(lines, ["", *measured] if measured else []))


def last_step(history: Iterable[Commit]) -> Commit:
    """Return the newest step of a history that was not taken back; raises NothingToUndo."""
    undone: set[str] = set()
    for commit in history:
        if not commit.parents:
            raise NothingToUndo("the wardrobe has only been started")
        if len(commit.parents) > 1:
            raise NothingToUndo("the last step joined two histories")
        if UNDOES in commit.trailers:
            undone.add(commit.trailers[UNDOES])
        elif commit.id not in undone:
            return commit
    raise NothingToUndo("no step was recorded")
