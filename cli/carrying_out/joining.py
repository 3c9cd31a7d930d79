"""Join the work of another maker for `mend`: preview it or record it, and say what came of it."""

from collections.abc import Iterator
from pathlib import Path

from rich.console import RenderableType

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.command_line import CommandLine
from trueup.cli.json import forms as json_forms
from trueup.cli.json import joining as json_joining
from trueup.cli.opening import note_hand_edits, take_up_edits_first
from trueup.cli.page import command, said, show
from trueup.cli.render.joining import joining_lines
from trueup.cli.unreadable import note_unreadable
from trueup.lineage.merging.joining import Joining
from trueup.lineage.wardrobe import Wardrobe

NOTHING = "Nothing to join: what the other side has is part of this wardrobe, and nothing is new."


def join_wardrobe(manner: Manner, other: str | None) -> None:
    """Join another version with the wardrobe at hand, and print what it did."""
    commands = CommandLine(manner.folder)
    with Wardrobe.open(manner.folder or Path()) as wardrobe:
        if manner.preview:
            joining, commit = wardrobe.propose_join(other), None
            if not wardrobe.is_half_merged:
                note_hand_edits(wardrobe, wardrobe.state)
                note_unreadable(wardrobe.state)
        else:
            joining, commit = _record(wardrobe, other)
        unit = wardrobe.evaluator_at(wardrobe.head).state.unit
    if manner.as_json:
        json_forms.write(json_joining.joining(joining, commit, commands))
    elif joining is None:
        show(said(NOTHING))
    else:
        show(*joining_lines(joining, commit, unit, commands), *_next(joining, commit, commands))


def _record(wardrobe: Wardrobe, other: str | None) -> tuple[Joining | None, str | None]:
    """Record a joining, the maker's own edits as a step before it; None where there is none."""
    with wardrobe.writing():
        joining = wardrobe.propose_join(other)
        if joining is None:
            return None, None
        if not wardrobe.is_half_merged and take_up_edits_first(wardrobe):
            joining = wardrobe.propose_join(other)
            if joining is None:
                return None, None
        return joining, wardrobe.record_join(joining)


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
