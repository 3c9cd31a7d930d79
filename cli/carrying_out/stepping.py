"""Carry out one step for a verb that writes: preview it or record it, and say what it did."""

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from rich.console import RenderableType

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.taking_up import tell_taken_up
from trueup.cli.command_line import CommandLine
from trueup.cli.json import forms as json_forms
from trueup.cli.opening import lanes_of, note_hand_edits
from trueup.cli.page import command, note, said, show
from trueup.cli.patience import patience
from trueup.cli.render.became import replay_lines
from trueup.cli.render.bodies import taken_lines
from trueup.cli.unreadable import note_missing
from trueup.cli.wording.kinds import subject_in_words
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.files.records import ConflictState
from trueup.lineage.files.state import State
from trueup.lineage.proposal import Proposal
from trueup.lineage.writable import WritableWardrobe

_DRAFTS = ("draft", "remeasure")

Also = Callable[[WritableWardrobe, CommandLine], Iterator[RenderableType]]
"""What else a verb tells of the wardrobe as its step left it."""


def carry_out(
    manner: Manner, propose: Callable[[WritableWardrobe], Proposal], also: Also | None = None
) -> int:
    """Preview or record the step that `propose` works out, and print what it did.

    `also` tells more of what was recorded, instead of what comes next.
    """
    commands = CommandLine(manner.folder)
    lanes = lanes_of(manner.cluster)
    with (
        WritableWardrobe.open(manner.folder or Path(), lanes) as wardrobe,
        patience(wardrobe, silent=manner.as_json),
    ):
        if manner.preview:
            proposal, commit = propose(wardrobe), None
            note_hand_edits(wardrobe, wardrobe.state)
            note_missing(wardrobe)
        else:
            done = wardrobe.carry_out(propose, tell_taken_up)
            proposal, commit = done.step, done.commit
            note_missing(wardrobe)
        state = wardrobe.state
        waiting = 0 if manner.preview else state.waiting
        more = list(also(wardrobe, commands)) if also and commit is not None else []
    for beyond in proposal.beyond:
        note(f"{worded(beyond.says, state.unit)}.")
    if manner.as_json:
        json_forms.write(json_forms.proposal(proposal, commit, commands))
    else:
        show(*_lines(proposal, state, commands, commit, waiting, more))
    return 0


def _lines(
    proposal: Proposal,
    state: State,
    commands: CommandLine,
    commit: str | None,
    waiting: int,
    more: Sequence[RenderableType],
) -> Iterator[RenderableType]:
    unit = state.unit
    yield said(subject_in_words(proposal.edit.subject), "bold")
    ids = proposal.edit.ids
    if commit is None:
        yield said("A preview: nothing is written.")
    elif ids:
        yield said(f"Recorded as {commit[:10]}, step {' '.join(ids)}.")
    else:
        yield said(f"Recorded as {commit[:10]}.")
    for node in proposal.edit.nodes if proposal.verb in _DRAFTS else ():
        yield from taken_lines(state, node)
    yield from replay_lines(proposal.replay, unit, None if commit is None else commands)
    if commit is not None:
        yield from _ways_back(proposal, unit, commands)
    yield ""
    yield from more or _next(proposal, commands, commit, waiting)


def _ways_back(proposal: Proposal, unit: Unit, commands: CommandLine) -> Iterator[RenderableType]:
    """Yield how a decision that holds for the time being is taken back, where there is a way."""
    if proposal.verb != "decide":
        return
    for conflict in (each for node in proposal.edit.nodes for each in node.conflicts):
        if conflict.state is ConflictState.ACCEPTED:
            for remedy in conflict.remedies:
                yield said(f"Whenever you want to {worded(remedy.says, unit)}:")
                yield command(commands.decide(conflict.id, remedy.name))


def _next(
    proposal: Proposal, commands: CommandLine, commit: str | None, waiting: int
) -> Iterator[RenderableType]:
    node = proposal.edit.node
    fresh = proposal.replay.arisen
    if commit is None:
        yield said("To record it, run the same command without --preview.")
    elif fresh and fresh[0].remedies:
        yield said("Next, settle the first conflict:")
        yield command(commands.decide(fresh[0].id, fresh[0].remedies[0].name))
    elif waiting:
        yield said(f"Next, see what still waits for a decision ({waiting}):")
        yield command(commands.line("conflicts"))
    elif proposal.verb == "draft":
        yield said("Next, derive a pattern from it:")
        yield command(commands.line("derive", "NAME", "--from", node))
    elif proposal.verb == "derive":
        yield said("Next, see what style changes there are:")
        yield command(commands.line("style", node, "--help"))
    else:
        yield said("Next, check it:")
        yield command(commands.line("check", node))
