"""Carry out one step on a garment or a body: worked out first, then recorded as one commit."""

from collections.abc import Callable
from pathlib import Path

from trueup.cli.carrying_out.taking_up import tell_taken_up
from trueup.cli.unreadable import note_gaps, untold
from trueup.lineage.files.state import State
from trueup.lineage.writable import StepT, WritableWardrobe


def file_step(
    folder: Path | None, propose: Callable[[WritableWardrobe], StepT]
) -> tuple[StepT, str, State]:
    """Record the step that `propose` works out; return it, its commit, and the wardrobe after."""
    with WritableWardrobe.open(folder or Path()) as wardrobe:
        done = wardrobe.carry_out(propose, tell_taken_up)
        note_gaps(untold(wardrobe.gaps, wardrobe.state))
        return done.step, done.commit, wardrobe.state
