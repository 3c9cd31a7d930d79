"""Carry out one step on a garment: worked out first, then recorded as one commit."""

from collections.abc import Callable
from pathlib import Path

from trueup.cli.opening import take_up_edits_first
from trueup.lineage.files.state import State
from trueup.lineage.garments.filing import Filing
from trueup.lineage.wardrobe import Wardrobe


def file_step(folder: Path | None, plan: Callable[[Wardrobe], Filing]) -> tuple[Filing, str, State]:
    """Record the step that `plan` works out; return it, its commit, and the wardrobe after it.

    The maker's own edits become a step of their own before it; when the step cannot be made,
    neither is recorded.
    """
    with Wardrobe.open(folder or Path()) as wardrobe:
        with wardrobe.writing():
            filing = plan(wardrobe)
            if take_up_edits_first(wardrobe):
                filing = plan(wardrobe)
            commit = filing.record(wardrobe)
        return filing, commit, wardrobe.state
