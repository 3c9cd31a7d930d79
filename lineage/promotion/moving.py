"""The correction that is moved: its steps, what they touched, and up to where it can go."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from trueup.geometry.calling.own_names import own_name
from trueup.geometry.changes import Change
from trueup.geometry.changes.on_side import told_by
from trueup.geometry.comparing.new_shapes import reshaped_edges
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import parts
from trueup.lineage.errors import NoSuchStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.faults.handed_down import Trace, Tracer
from trueup.lineage.faults.places import PlaceLine, lines_of
from trueup.lineage.files import graph
from trueup.lineage.files.graph import fit_above
from trueup.lineage.files.records import NodeRecord, Role, StepRecord, StyleRecord, replace
from trueup.lineage.promotion.errors import CannotPromote


@dataclass(frozen=True)
class Moving:
    """Corrections on their way up from a node: one step, or all of a fitting.

    `draft` is the node as it was before the first of them; `pieces` and `lines` are those they
    touched and reshaped there.
    """

    node: NodeRecord
    steps: tuple[StepRecord, ...]
    changes: tuple[Change, ...]
    draft: Draft
    pieces: tuple[str, ...]
    lines: tuple[PlaceLine, ...]

    @property
    def node_without(self) -> NodeRecord:
        """Return the node without them."""
        ids = {step.id for step in self.steps}
        return replace(self.node, steps=tuple(s for s in self.node.steps if s.id not in ids))

    @property
    def node_before(self) -> NodeRecord:
        """Return the node with only what was made before them."""
        first = self.node.steps.index(self.steps[0])
        return replace(self.node, steps=self.node.steps[:first])

    @property
    def kinds(self) -> str:
        """Return what is moved, in a word or two."""
        return ", ".join(step.kind for step in self.steps)


def moving(evaluator: Evaluator, name: str, step_id: str) -> Moving:
    """Return a correction of a node by the id of its step, or of its fitting.

    Raises NoSuchNode, NoSuchStep, and CannotPromote for what is no correction, does nothing, or
    stands on a node that has its fit from no other.
    """
    node = evaluator.state.node(name)
    steps = tuple(s for s in node.steps if s.fitting == step_id) or _one(node, step_id)
    wrong = next((s for s in steps if s.role is not Role.CORRECTION), None)
    if wrong:
        made = "for looks" if wrong.role is Role.STYLE else "to settle a conflict"
        raise CannotPromote(name, f"{wrong.kind} ({wrong.id}) was made {made}; name a correction")
    if not fit_above(evaluator.state.nodes, name):
        raise CannotPromote(name, "it derives from nothing, so there is nowhere to move it to")
    ids = {step.id for step in steps}
    stages = evaluator.stages(name)
    touched: dict[str, None] = {}
    lines: dict[str, None] = {}
    for before, after in pairwise(stages):
        if after.step is None or after.step.id not in ids:
            continue
        if after.problem:
            left_out = parts(after.problem.says, ", so it has no effect to move; amend it")
            raise CannotPromote(name, left_out)
        lines |= dict.fromkeys(reshaped_edges(before.draft, after.draft))
        touched |= dict.fromkeys(_touched(before.draft, after.draft))
    at = [stage.step.id if stage.step else "" for stage in stages].index(steps[0].id)
    draft = stages[at - 1].draft
    unit, body = evaluator.state.unit, evaluator.body(name)
    # Above, pieces may not be called as here: by their own names they are found.
    changes = tuple(told_by(change_of(step, unit, body), draft.called_names) for step in steps)
    pieces = tuple(own_name(draft, name) for name in touched)
    found = tuple(dict.fromkeys(_line(own_name(draft, name)) for name in lines))
    return Moving(node, steps, changes, draft, pieces, found or _places(draft, changes, pieces))


def _line(full_name: str) -> PlaceLine:
    piece, _, edge = full_name.partition(".")
    return PlaceLine(piece, edge)


def _one(node: NodeRecord, step_id: str) -> tuple[StepRecord, ...]:
    found = node.step(step_id)
    if found is None:
        raise NoSuchStep(node.name, step_id, [step.id for step in node.steps])
    return (found,)


def _touched(before: Draft, after: Draft) -> list[str]:
    """Return the pieces that are not the same; where only seams are, all that they join."""
    untouched = {id(piece) for piece in before.pieces}
    pieces = [piece.name for piece in after.pieces if id(piece) not in untouched]
    seams = [seam for seam in after.seams if seam not in before.seams]
    return pieces or sorted({piece for seam in seams for piece in seam.pieces})


def _places(
    draft: Draft, changes: Sequence[Change], pieces: Sequence[str]
) -> tuple[PlaceLine, ...]:
    """Return where changes that reshaped no edge were made: at their darts, or anywhere."""
    darts = [str(dart) for change in changes if (dart := getattr(change, "dart", None))]
    try:
        found = [line for dart in darts for line in lines_of(draft, dart, "this draft")]
    except NoSuchName:
        found = []
    if found:
        return tuple(dict.fromkeys(found))
    return tuple(PlaceLine(p, e.name) for p in pieces for e in draft.piece(p).edges)


def ancestor_for(evaluator: Evaluator, move: Moving, wanted: str | None) -> str:
    """Return the node a correction goes up to: the one wanted, or the one its place comes from.

    Raises NoSuchNode, and CannotPromote for a node that is no ancestor, that does not hand the
    pieces down to this node, or not by way of its present version.
    """
    name = move.node.name
    above = fit_above(evaluator.state.nodes, name)
    if wanted is not None:
        evaluator.state.node(wanted)
        _require_above(evaluator, name, wanted, above)
    target = wanted or _origin(evaluator, move)
    for piece in move.pieces:
        _require_way(evaluator, name, piece, target)
    return target


def _require_above(evaluator: Evaluator, name: str, wanted: str, above: set[str]) -> None:
    if wanted in above:
        return
    known = ", ".join(n for n in evaluator.state.in_order if n in above)
    if wanted == name:
        reason = f"it stands there already; name one of {known}"
    elif wanted in graph.below(evaluator.state.graph, name):
        reason = f"{wanted} derives from it, so it would go round in a circle; name one of {known}"
    elif wanted in graph.lineage_of(evaluator.state.nodes, name):
        reason = (
            f"it has of {wanted} only the style, so a correction made there would not arrive; name "
            f"one of {known}"
        )
    else:
        reason = f"{wanted} is none of its ancestors; name one of {known}"
    raise CannotPromote(name, reason)


def _origin(evaluator: Evaluator, move: Moving) -> str:
    """Return the node that last shaped the place of a correction before it was made."""
    before = evaluator.beside(move.node_before)
    tracer = Tracer(before.state)
    traces = [tracer.trace(before, move.node.name, line) for line in move.lines]
    ways = [trace for trace in traces if trace is not None]
    if not ways:
        raise CannotPromote(move.node.name, "what it changes comes from none; name one with --to")
    nearest = min(ways, key=lambda trace: len(trace.way))
    if len(nearest.way) > 1:
        return nearest.way[-1]
    raise CannotPromote(move.node.name, _own(evaluator, move, nearest))


def _own(evaluator: Evaluator, move: Moving, trace: Trace) -> str:
    above = fit_above(evaluator.state.nodes, move.node.name)
    known = ", ".join(n for n in evaluator.state.in_order if n in above)
    step = f"its own {trace.step.kind} ({trace.step.id})" if trace.step else "its own draft"
    if trace.taken_by and trace.step:
        step = f"{trace.step.kind} ({trace.step.id}), taken over from {trace.source.node},"
    return (
        f"{step} shaped {trace.source.line} before, so no ancestor is at fault by itself; "
        f"name with --to the one that it belongs to: {known}"
    )


def _require_way(evaluator: Evaluator, name: str, piece: str, target: str) -> None:
    """Refuse where a piece does not come down from the target as that now is."""
    at = name
    while at != target:
        style = evaluator.state.node(at).style
        if style and style.takes is Role.CORRECTION and target in _with_above(evaluator, style):
            if style.hold:
                reason = f"{at} stays on an earlier version of {style.name}, so nothing done there"
                raise CannotPromote(name, f"{reason} would come; let it follow {style.name} again")
            at = style.name
            continue
        giver = evaluator.giver(at, piece)
        if giver is None:
            reason = f"its {piece} comes from {at}, not by way of {target}; name one it comes from"
            raise CannotPromote(name, reason)
        source, parent = giver
        if source is not evaluator:
            reason = f"{at} stays on an earlier version of {parent}, so nothing done at {target}"
            raise CannotPromote(name, f"{reason} would come down; let it follow {parent} again")
        at = parent


def _with_above(evaluator: Evaluator, style: StyleRecord) -> set[str]:
    return fit_above(evaluator.state.nodes, style.name) | {style.name}
