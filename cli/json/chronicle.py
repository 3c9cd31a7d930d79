"""The history, a pattern's explanation and an audit as JSON documents: lengths in mm."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from trueup.cli.command_line import CommandLine
from trueup.cli.json import bodies as json_bodies
from trueup.cli.json import forms as json_forms
from trueup.cli.json import garments as json_garments
from trueup.cli.json.forms import Form, mm
from trueup.cli.json.measured import drafted_for, remeasured, remeasurings, whose
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.audit import Audit, verdict_counts
from trueup.lineage.chronicle.entry import Decided, Entry
from trueup.lineage.chronicle.over_time import TakenMeasure
from trueup.lineage.chronicle.sizes_anew import sizes_measured
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.files.state import State
from trueup.lineage.replay.verdicts import MeasureChange

if TYPE_CHECKING:
    from trueup.lineage.chronicle.chain import Chapter, ExplainedStep, Explanation


def history(
    about: NodeRecord | GarmentRecord | BodyRecord | None,
    entries: Iterable[Entry],
    commands: CommandLine,
    state: State,
    *,
    with_effects: bool,
) -> Form:
    """Return the recorded steps, newest first.

    For a node its chain is told as well, for a garment its facts, for a body its measurements.
    """
    document: Form = {}
    if isinstance(about, NodeRecord):
        chain = [json_forms.step(each) for each in about.steps]
        document = {"node": about.name, "chain": chain, "remeasured": remeasurings(about)}
    elif isinstance(about, BodyRecord):
        document = json_bodies.body(about, state)
    elif about is not None:
        document = {"garment": json_garments.garment(about)}
    told = [
        entry(each, commands, state.unit) if with_effects else json_forms.recorded(each.commit)
        for each in entries
    ]
    return {**document, "history": told}


def entry(found: Entry, commands: CommandLine, unit: Unit) -> Form:
    """Return one entry with what it did."""
    effect = found.effect_with_remedies
    return {
        **json_forms.recorded(found.commit),
        "node": found.node or None,
        "parents": list(found.commit.parents),
        "why": found.why,
        "undoes": found.undone.commit.id if found.undone else None,
        "taken_back_by": found.taken_back_by,
        "made": [
            {**json_forms.step(step), "says": step_in_words(step, unit, found.body)}
            for step in found.steps
        ],
        "remeasured": remeasured(found.remeasured),
        "sizes_remeasured": {
            block: remeasured(each) for block, each in sizes_measured(found).items()
        },
        "drafted_for": whose(found.drafted_for),
        "measures": measure_changes(effect.measures),
        "patterns": [json_forms.pattern(each, commands) for each in effect.patterns],
        "verdicts": {verdict.value: count for verdict, count in verdict_counts(found).items()},
        "conflicts": [each.id for each in effect.opened],
        "settled": [each.id for each in effect.settled],
        "decisions": [decided(each) for each in found.decided],
        "garments": [
            {
                "garment": each.garment,
                "says": worded(each.says, Unit.MILLIMETRE),
                "note": each.note and each.note.id,
            }
            for each in found.garments
        ],
        "bodies": [
            {
                "body": each.body,
                "says": each.says,
                "measurements": remeasured(each.measurements),
            }
            for each in found.bodies
        ],
        "mended": [{"garment": name, "note": each.id} for name, each in found.mended],
        "unreadable": worded(effect.unreadable, Unit.MILLIMETRE) or None,
    }


def measure_changes(found: Iterable[MeasureChange]) -> list[Form]:
    """Return measures before and after."""
    return [
        {"name": m.name, "before_mm": mm(m.before_mm), "after_mm": mm(m.after_mm)} for m in found
    ]


def decided(found: Decided) -> Form:
    """Return a decision with the commit that recorded it."""
    date = found.decision.date
    return {
        "conflict": found.conflict.id,
        "node": found.conflict.arose_at,
        "remedy": found.decision.remedy,
        "why": found.decision.why,
        "date": date.isoformat() if date else None,
        "commit": found.commit.id,
        "author": found.commit.author,
        "taken_back": found.taken_back,
    }


def over_time(node: str, found: Sequence[TakenMeasure]) -> Form:
    """Return a node's measures at each commit that changed them, oldest first."""
    return {
        "node": node,
        "over_time": [
            {
                "measure": each.name,
                "commit": each.entry.commit.id,
                "when": each.entry.commit.when.isoformat(),
                "author": each.entry.commit.author,
                "value_mm": mm(each.value_mm),
                "change_mm": mm(each.change_mm),
                "by_node": each.entry.node or None,
                "by_steps": [
                    {"id": step.id, "kind": step.kind, "values": step.values}
                    for step in each.entry.steps
                ],
                "says": each.entry.commit.subject,
            }
            for each in found
        ],
    }


def explanation(found: "Explanation", commands: CommandLine) -> Form:
    """Return how a pattern came to be, its block first."""
    return {
        "node": found.node.name,
        "chain": [_chapter(each, commands) for each in found.chapters],
        "moved": measure_changes(found.moved),
        "measures": {name: mm(value) for name, value in found.measures.items()},
    }


def _chapter(chapter: "Chapter", commands: CommandLine) -> Form:
    node = chapter.node
    return {
        "node": node.name,
        "kind": node.kind,
        "as_of": chapter.held,
        "drafted": {"system": node.draft.system, "body": node.draft.body} if node.draft else None,
        "drafted_for": drafted_for(node),
        "remeasured": [
            {
                "commit": each.commit.id,
                "when": each.commit.when.isoformat(),
                "author": each.commit.author,
                "why": each.why,
                "drafted_for": whose(each.drafted_for),
                "measurements": remeasured(each.remeasured),
            }
            for each in chapter.remeasured
        ],
        "traced": {"from": node.traced.source} if node.traced else None,
        "parents": [
            {
                "name": each.name,
                "pieces": None if each.pieces is None else list(each.pieces),
                "stays_on": each.hold,
            }
            for each in node.parents
        ],
        "style": json_forms.style(node),
        "starts_with": {name: mm(value) for name, value in chapter.starts_with.items()},
        "steps": [_told(each, commands) for each in chapter.steps],
        "conflicts": [json_forms.conflict(each, commands) for each in chapter.conflicts],
    }


def _told(told: "ExplainedStep", commands: CommandLine) -> Form:
    return {
        **json_forms.step(told.step),
        "says": told.words,
        "commit": told.commit.id if told.commit else None,
        "author": told.commit.author if told.commit else None,
        "when": told.commit.when.isoformat() if told.commit else None,
        "measures": measure_changes(told.measures),
        "conflicts": [json_forms.conflict(each, commands) for each in told.conflicts],
        "taken_from": told.taken_from or None,
        "left_out": told.left_out and worded(told.left_out, Unit.MILLIMETRE),
    }


def audit(found: Audit, commands: CommandLine, unit: Unit) -> Form:
    """Return an audit of a wardrobe or a node."""
    return {
        "wardrobe": found.wardrobe,
        "version": found.version,
        "node": found.node.name if found.node else None,
        "nodes": [
            {
                "name": node.name,
                "kind": node.kind,
                "parents": [parent.name for parent in node.parents],
                "steps": [
                    {
                        **json_forms.step(step),
                        "says": step_in_words(step, unit, found.bodies[node.name]),
                    }
                    for step in node.steps
                ],
            }
            for node in found.nodes
        ],
        "history": [entry(each, commands, unit) for each in found.entries],
        "open_conflicts": [json_forms.conflict(each, commands) for each in found.conflicts],
        "decisions": [decided(each) for each in found.decisions],
        "garments": [json_garments.garment(each) for each in found.garments],
    }
