"""Join the work of another maker for `mend`: preview it or record it, and say what came of it."""

from collections.abc import Iterator
from pathlib import Path

from rich.console import RenderableType

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.taking_up import tell_taken_up
from trueup.cli.command_line import CommandLine
from trueup.cli.json import forms as json_forms
from trueup.cli.json import joining as json_joining
from trueup.cli.opening import note_hand_edits
from trueup.cli.page import command, said, show
from trueup.cli.patience import patience
from trueup.cli.render.joining import joining_lines
from trueup.cli.unreadable import note_missing
from trueup.lineage.joinable import JoinableWardrobe
from trueup.lineage.merging.joining import Joining

NOTHING = "Nothing to join: what the other side has is part of this wardrobe, and nothing is new."


def join_wardrobe(manner: Manner, other: str | None) -> None:
    """Join another version with the wardrobe at hand, and print what it did."""
    commands = CommandLine(manner.folder)
    with (
        JoinableWardrobe.open(manner.folder or Path()) as wardrobe,
        patience(wardrobe, silent=manner.as_json),
    ):
        if manner.preview:
            joining, commit = wardrobe.propose_join(other), None
            if not wardrobe.is_half_merged:
                note_hand_edits(wardrobe, wardrobe.state)
                note_missing(wardrobe)
        else:
            done = wardrobe.join(other, tell_taken_up)
            joining, commit = (done.step, done.commit) if done else (None, None)
        unit = wardrobe.evaluator_at(wardrobe.head).state.unit
    if manner.as_json:
        json_forms.write(json_joining.joining(joining, commit, commands))
    elif joining is None:
        show(said(NOTHING))
    else:
        show(*joining_lines(joining, commit, unit, commands), *_next(joining, commit, commands))


def _next(joining: Joining, commit: str | None, commands: CommandLine) -> Iterator[RenderableType]:
    yield ""
    waiting = (*joining.contradictions, *joining.conflicts)
    if commit is None:
        yield said("To record it, run the same command without --preview.")
    elif waiting and waiting[0].remedies:
        yield said("Next, settle the first conflict:")
        yield command(commands.decide(waiting[0].id, waiting[0].remedies[0].name))
    else:
        yield said("Next, see what needs attention:")
        yield command(commands.line())
