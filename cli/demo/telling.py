"""Tell the sample wardrobe's story: play it, correct its block, settle one conflict, look round.

Every step of it is a verb a maker could have typed, told by the verb itself.
"""

from collections.abc import Callable
from importlib.resources import files
from itertools import count
from pathlib import Path
from typing import Any

from rich.console import RenderableType

from trueup.cli.amounts import length
from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.command_line import CommandLine
from trueup.cli.demo.garments import garment_tale
from trueup.cli.demo.playing import cause_of, notes_of, play, propose_correction
from trueup.cli.demo.story import Story, Tale, read_story
from trueup.cli.page import command, said, show
from trueup.cli.render.garments.faults import cause_lines
from trueup.cli.terminal.waiting import waiting
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.units import Unit
from trueup.lineage.faults.causes import CommonCause, causes
from trueup.lineage.faults.inquiry import Inquiry
from trueup.lineage.files.records import ConflictKind, ConflictRecord
from trueup.lineage.writable import WritableWardrobe

WHY_SETTLED = "The sleeve went in with this ease before, and hung well."


def sample_story() -> Story:
    """Return the story of the sample wardrobe that comes with the program."""
    return read_story((files("trueup.sample_wardrobe") / "steps.toml").read_bytes())


def tell(folder: Path, check: Callable[[str, Path], int]) -> int:
    """Play the sample wardrobe into a new or empty folder and tell what a correction does to it.

    `check` is the verb: told the corrected block and the folder, it prints what it finds. Returns
    what it returns in the end. Raises FolderNotEmpty.
    """
    story, commands = sample_story(), CommandLine(folder)
    _play(story, folder)
    show(*_opening(story, folder))
    with WritableWardrobe.open(folder) as wardrobe:
        found, unit = causes(Inquiry(wardrobe.evaluator)), wardrobe.state.unit
    show("", said("What do their fit notes have in common?"), _all_causes(commands), "")
    show(*cause_lines(found, unit, commands, with_single=False))

    told = story.correction
    cause = cause_of(found, told)
    show("", said(told.why), command(_correction_line(story, cause, commands)), "")
    carry_out(Manner(folder), lambda wardrobe: propose_correction(wardrobe, told, notes_of(cause)))

    conflict = _cap_conflict(folder, told.node)
    cure = conflict.remedies[0].name
    show(
        "",
        said(
            f"The sleeve no longer fits {told.node} itself. Settled there, it is settled in every "
            "pattern that took it over."
        ),
        command(commands.line("decide", conflict.id, cure, "--why", WHY_SETTLED)),
        "",
    )
    carry_out(
        Manner(folder),
        lambda wardrobe: wardrobe.propose_decision(conflict.id, cure, WHY_SETTLED),
    )
    show("", *_ease_now(folder, conflict), command(commands.line("check", told.node)), "")
    code = check(told.node, folder)
    show("", *_what_next(story, cause, commands))
    return code


def tell_garments(folder: Path) -> int:
    """Play the garments of every sort into a new or empty folder, and say how to look at them.

    Raises FolderNotEmpty.
    """
    tale, commands = garment_tale(), CommandLine(folder)
    _play(tale, folder)
    with WritableWardrobe.open(folder) as wardrobe:
        patterns = [node.name for node in wardrobe.state.nodes.values() if not node.is_block]
    show(
        said(f"The wardrobe of an open-air stage, in {folder}", "bold"),
        said(f"{len(patterns)} patterns: {', '.join(sorted(patterns))}."),
        "",
        said("What each derives from, the steps of one, and its pieces to print:"),
        command(commands.line("tree")),
        command(commands.line("history", patterns[0])),
        command(commands.line("sheet", patterns[0], f"{patterns[0]}.pdf")),
        "",
        said("What would become of all of them if the block were corrected:"),
        command(
            commands.line("correct", "marta-block", "shorten-shoulder", "--by", "6mm", "--preview")
        ),
    )
    return 0


def _play(story: Tale, folder: Path) -> None:
    played = count(1)
    with waiting("steps") as tell:
        play(story, folder, lambda: tell(next(played), len(story.step)))


def _opening(story: Story, folder: Path) -> tuple[RenderableType, ...]:
    with WritableWardrobe.open(folder) as wardrobe:
        nodes = wardrobe.state.nodes.values()
        drafted = sum(node.draft is not None for node in nodes)
        derived = sum(node.is_block for node in nodes) - drafted
        patterns = sum(not node.is_block for node in nodes)
        garments = wardrobe.state.garments.values()
    worn = sum(len(garment.open_notes) for garment in garments)
    return (
        said(f"The costume store of a village theatre, in {folder}", "bold"),
        said(
            f"{drafted} fitted blocks, {derived} blocks derived from them and {patterns} patterns, "
            f"with {len(garments)} garments cut from them; {len(story.step)} steps in all."
        ),
        said(f"{worn} fit notes are open, from when the garments were worn."),
    )


def _all_causes(commands: CommandLine) -> RenderableType:
    return command(commands.line("shared", "--all"))


def _correction_line(story: Story, cause: CommonCause, commands: CommandLine) -> str:
    told = story.correction
    options: list[str] = []
    for name, value in told.change.items():
        if name != "kind":
            options += [f"--{name.replace('_', '-')}", str(value)]
    for note in notes_of(cause):
        options += ["--mends", note]
    kind: Any = told.change["kind"]
    return commands.line("correct", told.node, kind, *options, "--why", told.why)


def _cap_conflict(folder: Path, node: str) -> ConflictRecord:
    """Return the conflict of the node's own sleeve cap, which the sample's correction brings."""
    with WritableWardrobe.open(folder) as wardrobe:
        waiting = wardrobe.state.node(node).open_conflicts
    return next(each for each in waiting if each.kind is ConflictKind.SEAM and each.edge == "cap")


def _ease_now(folder: Path, settled: ConflictRecord) -> tuple[RenderableType, ...]:
    with WritableWardrobe.open(folder) as wardrobe:
        unit: Unit = wardrobe.state.unit
        ease = wardrobe.evaluator.summary(settled.arose_at).measures[CAP_EASE]
    wanted = length(settled.whole_before, unit)
    return (
        said(
            f"The cap of {settled.arose_at} holds {length(ease, unit)} of ease over its armhole; "
            f"{wanted} were there before the correction."
        ),
    )


def _what_next(
    story: Story, cause: CommonCause, commands: CommandLine
) -> tuple[RenderableType, ...]:
    preview = ("shorten-shoulder", "--by", "5mm", "--preview")
    before = cause.garments
    return (
        said(
            f"{', '.join(before[:-1])} and {before[-1]} were cut before the correction, and their "
            f"cloth is as it was. What can still be done about {before[0]}:"
        ),
        command(commands.line("alter", before[0])),
        "",
        said("The wardrobe is yours to explore:", "bold"),
        _all_causes(commands),
        command(commands.line("conflicts")),
        command(commands.line("tree")),
        command(commands.line("correct", story.correction.node, *preview)),
        command(commands.line("book", "theatre-store.html")),
    )
