"""Every answer as a JSON document: plain values with lengths in mm, for programs to read."""

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from trueup.cli import page
from trueup.cli.command_line import CommandLine
from trueup.cli.json.measured import drafted_for, follows, remeasured
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.bodies.following import Following, waiting
from trueup.lineage.evaluation.origin import Origin
from trueup.lineage.files.records import ConflictRecord, NodeRecord, Remedy, StepRecord
from trueup.lineage.files.state import State
from trueup.lineage.replay.standing import Standing
from trueup.lineage.store import Commit, HandEdit
from trueup.lineage.trail import NODE as NODE_TRAILER
from trueup.lineage.trail import STEPS as STEPS_TRAILER
from trueup.lineage.trail import VERB

if TYPE_CHECKING:
    from trueup.geometry.changes.usual import Beyond
    from trueup.lineage.proposal import Proposal
    from trueup.lineage.replay.replay import PatternReplay

Form = dict[str, Any]

_FINEST = 6  # decimals of a mm; what lies beyond is noise of the arithmetic


def write(document: Form) -> None:
    """Write one document to stdout, and nothing else."""
    page.write(as_text(document))


def as_text(document: Form) -> str:
    """Return a document as the text of a file."""
    return json.dumps(document, indent=2, allow_nan=False, default=str) + "\n"


def mm(value: float | None) -> float | None:
    """Return a length rounded to what can be told apart from noise."""
    return None if value is None else round(value, _FINEST) + 0.0


def proposal(made: "Proposal", commit: str | None, commands: CommandLine) -> Form:
    """Return what a step did; `commit` is None for a preview: nothing can be decided of it yet."""
    replay, known = made.replay, commands if commit is not None else None
    return {
        "correction": {
            "verb": made.verb,
            "node": made.edit.node,
            "steps": [step(each) for each in made.edit.steps],
            "remeasured": remeasured(made.remeasured),
            "drafted_for": next((drafted_for(n) for n in made.edit.nodes if n.drafted_for), None),
            "beyond": [_beyond(each) for each in made.beyond],
            "why": made.edit.why,
            "says": made.edit.subject,
            "commit": commit,
        },
        "measures": [
            {"name": m.name, "before_mm": mm(m.before_mm), "after_mm": mm(m.after_mm)}
            for m in replay.measures
        ],
        "conflicts": [conflict(each, known) for each in replay.conflicts],
        "patterns": [pattern(each, known) for each in replay.patterns],
        "settled": [each.id for each in replay.settled],
        "unchecked": list(replay.unchecked),
    }


def _beyond(found: "Beyond") -> Form:
    return {
        "kind": found.kind,
        "parameter": found.parameter,
        "amount_mm": mm(found.amount),
        "most_mm": mm(found.most),
        "source": found.source or None,
    }


def pattern(replayed: "PatternReplay", commands: CommandLine | None) -> Form:
    """Return what became of a step in one descendant."""
    return {
        "name": replayed.name,
        "verdict": replayed.verdict.value,
        "measures": [
            {"name": each.name, "wanted_mm": mm(each.wanted_mm), "got_mm": mm(each.got_mm)}
            for each in replayed.measures
        ],
        "conflicts": [conflict(each, commands) for each in replayed.conflicts],
        "inherits": list(dict.fromkeys(replayed.inherits)),
        "note": replayed.note,
        "unchecked": list(replayed.unchecked),
        "corrections": [
            {"steps": list(each.steps), "verdict": each.verdict.value, "note": each.note}
            for each in replayed.corrections
        ],
    }


def step(record: StepRecord) -> Form:
    """Return one step of a chain; its values are as the file writes them."""
    return {
        "id": record.id,
        "kind": record.kind,
        "version": record.version,
        "role": record.role.value,
        "values": record.values,
        "why": record.why,
        "date": record.date.isoformat() if record.date else None,
        "fitting": record.fitting,
        "settles": record.settles,
    }


def conflict(record: ConflictRecord, commands: CommandLine | None) -> Form:
    """Return one conflict with its remedies, and their commands where it is recorded."""
    return {
        "id": record.id,
        "kind": record.kind.value,
        "state": record.state.value,
        "arose_at": record.arose_at,
        "piece": record.piece,
        "edge": record.edge,
        "section": record.section or None,
        "whole_before_mm": mm(record.whole_before_mm),
        "before_mm": mm(record.before_mm),
        "after_mm": mm(record.after_mm),
        "allowed_mm": None if record.allowed_mm is None else [mm(v) for v in record.allowed_mm],
        "correction": record.correction,
        "corrected": record.corrected,
        "change": record.change,
        "says": worded(record.says, Unit.MILLIMETRE),
        "remedies": [_remedy(each, record, commands) for each in record.remedies],
        "decisions": [
            {
                "remedy": d.remedy,
                "why": d.why,
                "date": d.date.isoformat() if d.date else None,
                "accepted_excess": mm(d.accepted_excess),
                "accepted_at_mm": mm(d.accepted_at_mm),
            }
            for d in record.decisions
        ],
    }


def _remedy(remedy: Remedy, record: ConflictRecord, commands: CommandLine | None) -> Form:
    return {
        "name": remedy.name,
        "amount_mm": mm(remedy.amount_mm),
        "says": worded(remedy.says, Unit.MILLIMETRE),
        "effects": [
            {"name": e.name, "before_mm": mm(e.before_mm), "after_mm": mm(e.after_mm)}
            for e in remedy.effects
        ],
        "leaves_open": [
            {
                "code": each.code,
                "piece": each.piece,
                "edge": each.edge,
                "excess_mm": None if "kink" in each.code else mm(each.excess),
                "excess_degrees": mm(each.excess) if "kink" in each.code else None,
            }
            for each in remedy.leaves
        ],
        "command": commands.decide(record.id, remedy.name) if commands else None,
    }


def conflicts(
    records: Iterable[ConflictRecord], inherited: Iterable[ConflictRecord], commands: CommandLine
) -> Form:
    """Return the conflicts of a wardrobe or a node, and the ids of those a node inherits."""
    return {
        "conflicts": [conflict(each, commands) for each in records],
        "inherits": [each.id for each in inherited],
    }


def measures(node: str, found: Mapping[str, float]) -> Form:
    """Return the measures of a node."""
    return {"node": node, "measures": {name: mm(value) for name, value in found.items()}}


def findings(node: str, found: Sequence[Standing], waiting_for: Sequence[Following] = ()) -> Form:
    """Return what does not hold at a node; an angle has its numbers under names of its own.

    `unchecked` are pieces, and lines, for which no seam is stated: then it is not called true.
    `waiting_for` are blocks that do not follow yet what was measured.
    """
    return {
        "node": node,
        "true": not any(each.is_open for each in found),
        "unchecked": [each.place for each in found if each.is_unchecked],
        "findings": [_finding(each) for each in found],
        "waiting": [follows(each) for each in waiting_for],
    }


def _finding(found: Standing) -> Form:
    allowed = None if found.allowed is None else [mm(value) for value in found.allowed]
    lengths = (mm(found.measured), allowed)
    angles: tuple[Any, Any] = (None, None)
    if found.in_degrees:
        lengths, angles = angles, lengths
    return {
        "id": found.id or None,
        "arose_at": found.arose_at,
        "code": found.code,
        "severity": "note" if found.accepted else found.severity.value,
        "piece": found.piece,
        "edge": found.edge,
        "measured_mm": lengths[0],
        "allowed_mm": lengths[1],
        "measured_degrees": angles[0],
        "allowed_degrees": angles[1],
        "message": worded(found.says, Unit.MILLIMETRE),
        "conflict": found.conflict.id if found.conflict else None,
        "accepted": found.accepted,
    }


def tree(state: State) -> Form:
    """Return all nodes with their parents, parents first."""
    return {"nodes": [_node(state.nodes[name]) for name in state.in_order]}


def _node(node: NodeRecord) -> Form:
    return {
        "name": node.name,
        "kind": node.kind,
        "parents": [parent.name for parent in node.parents],
        "takes": {p.name: list(p.pieces) for p in node.parents if p.pieces is not None},
        "stays_on": {p.name: p.hold for p in node.parents if p.hold is not None},
        "style": style(node),
        "open_conflicts": [each.id for each in node.open_conflicts],
    }


def style(node: NodeRecord) -> Form | None:
    """Return whose style a node takes; None where it takes none."""
    found = node.style
    if found is None:
        return None
    return {
        "name": found.name,
        "takes": found.takes.value,
        "stays_on": found.hold,
        "without": list(found.without),
    }


def origins(node: str, found: Mapping[str, Origin]) -> Form:
    """Return for each edge the node and the step that last shaped it."""
    return {
        "node": node,
        "edges": [
            {
                "edge": edge,
                "node": each.node,
                "step": step(each.step) if each.step else None,
            }
            for edge, each in found.items()
        ],
    }


def recorded(commit: Commit) -> Form:
    """Return a recorded step as its commit tells it."""
    return {
        "commit": commit.id,
        "when": commit.when.isoformat(),
        "author": commit.author,
        "verb": commit.trailers.get(VERB),
        "node": commit.trailers.get(NODE_TRAILER),
        "steps": commit.trailers.get(STEPS_TRAILER, "").split(),
        "says": commit.subject,
        "body": commit.body,
    }


def attention(
    state: State,
    edited: Sequence[HandEdit],
    fetched: str | None,
    commands: CommandLine,
    next_: str,
) -> Form:
    """Return what needs attention in a wardrobe, and the next sensible command."""
    nodes = state.nodes.values()
    return {
        "name": state.settings.name,
        "unit": state.unit.value,
        "blocks": sum(node.is_block for node in nodes),
        "patterns": sum(not node.is_block for node in nodes),
        "edited_by_hand": [{"path": edit.path, "kind": edit.kind} for edit in edited],
        "fetched": fetched,
        "conflicts": [conflict(each, commands) for each in state.open_conflicts],
        "garments": len(state.garments),
        "open_notes": [n.id for each in state.garments.values() for n in each.open_notes],
        "waiting": [follows(each) for each in waiting(state)],
        "next": next_,
    }
