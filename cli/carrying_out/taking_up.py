"""Say what became of edits by hand that a step took up first."""

from trueup.cli.opening import joined_lines
from trueup.cli.page import note
from trueup.lineage.errors import listed
from trueup.lineage.hand_edits.taking_up import TakenUp
from trueup.lineage.recordable import Recorded


def tell_taken_up(taken: Recorded[TakenUp]) -> None:
    """Say on stderr which edits by hand became a step of their own, and what they did."""
    edits = taken.step
    note(f"Your own edits were taken up as a step of their own: {listed(edits.paths)}.")
    for line in joined_lines(edits.since):
        note(line)
    if edits.taken_out:
        out = [f"{each} of {each.place}" for each in edits.taken_out]
        note(f"They take out {listed(out)}.")
