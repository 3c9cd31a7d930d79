"""How a line comes down to a node: what last shaped it, and by which nodes it was handed on."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from trueup.geometry.lines.points import unit
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import Shape, shape_of
from trueup.geometry.pieces.side import unsided
from trueup.geometry.tolerance import SAME_POINT, SHAPE_GRID
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.faults.places import PlaceLine
from trueup.lineage.files.records import Role, StepRecord
from trueup.lineage.files.state import State


@dataclass(frozen=True)
class LineSource:
    """What last shaped a line: the node, its step (empty where drafted so), and the shape it gave.

    Two sources are equal when the line is one and the same, not when it was only made alike. The
    shape tells apart what one step made of a line before and after something above it changed. A
    step that was moved to another node since, or joined with another maker's, is named as now.
    """

    line: PlaceLine
    node: str
    step: str
    shape: Shape = field(repr=False)


@dataclass(frozen=True)
class Trace:
    """The way of a line down to a node.

    `way` names the nodes that have it, from the node itself up to the one that shaped it; `free`
    those of them whose corrections would still arrive: the ways ends where a parent is held at an
    earlier version, `held` by the last of these. `taken_by` is the graft that took over the step
    by which it was shaped; empty where the step stands in the chain of its node.
    """

    source: LineSource
    step: StepRecord | None
    way: tuple[str, ...]
    free: tuple[str, ...]
    held: str = ""
    taken_by: str = ""

    def is_same(self, other: "Trace") -> bool:
        """Return whether two lines are one and the same, or what one step made on two bodies.

        Of a step that is taken over the shapes differ as the bodies do, so there its values count.
        """
        if self.taken_by == other.taken_by:
            return self.source == other.source
        return self._made_by == other._made_by

    @property
    def _made_by(self) -> object:
        at, step = self.source, self.step
        return at.line, at.node, at.step, step and (step.kind, step.version, step.values)


@dataclass
class Tracer:
    """Traces lines in any version of a wardrobe, each only once; `now` is it as it is."""

    now: State
    _traces: dict[tuple[int, str, PlaceLine], Trace | None] = field(default_factory=dict)
    _evaluators: dict[int, Evaluator] = field(default_factory=dict)
    _now: dict[tuple[str, str], tuple[str, str]] = field(default_factory=dict)

    def trace(self, evaluator: Evaluator, node: str, line: PlaceLine) -> Trace | None:
        """Return the way of a line down to a node, None where the node does not have the line."""
        key = (id(evaluator), node, line)
        if key not in self._traces:
            self._evaluators[id(evaluator)] = evaluator  # so that no other takes its id
            self._traces[key] = self._found(evaluator, node, line)
        return self._traces[key]

    def traces(
        self, evaluator: Evaluator, node: str, lines: Sequence[PlaceLine]
    ) -> tuple[Trace, ...] | None:
        """Return the ways of several lines, None where the node lacks one of them."""
        found = [self.trace(evaluator, node, line) for line in lines]
        there = tuple(each for each in found if each is not None)
        return there if len(there) == len(found) else None

    def _found(self, evaluator: Evaluator, node: str, line: PlaceLine) -> Trace | None:
        summary = evaluator.summary(node)
        pieces = summary.told_of
        if line.piece not in pieces:
            # Above where left and right were parted it is the line of both.
            line = replace(line, piece=unsided(line.piece))
        if line.piece not in pieces:
            return None
        step = _last_shaper(evaluator, node, line)
        giver = None if step else evaluator.giver(node, line.piece)
        if giver is None and not step and line.piece in summary.cut_from:
            # Here it was cut, and was some of that.
            return self.trace(evaluator, node, replace(line, piece=summary.cut_from[line.piece]))
        if giver is None:
            return self._beginning(evaluator, node, line, step)
        source, parent = giver
        above = self.trace(source, parent, line)
        if above is None:
            return None
        way = (node, *above.way)
        if source is not evaluator:
            return replace(above, way=way, free=(node,), held=node)
        return replace(above, way=way, free=(node, *above.free))

    def _beginning(
        self, evaluator: Evaluator, node: str, line: PlaceLine, step: str
    ) -> Trace | None:
        shape = _shape(evaluator.draft(node), line)
        if shape is None:
            return None
        taken = evaluator.source_of(node, step) if step else None
        record = taken.step if taken else None
        source = LineSource(line, *self._as_now(node, step), shape)
        if taken is None or taken.node == node:
            return Trace(source, record, (node,), (node,))
        style = evaluator.state.node(node).style
        if style is None or style.takes is not Role.CORRECTION or style.hold:
            return Trace(source, record, (node,), (node,), taken_by=node)
        # With the corrections of a block the next one comes, too.
        return Trace(source, record, (node, source.node), (node, source.node), taken_by=node)

    def _as_now(self, node: str, step: str) -> tuple[str, str]:
        """Return where a step is now and its id there; as it was where it is no more."""
        if not step:
            return node, step
        if (node, step) not in self._now:
            own = [self.now.nodes[node]] if node in self.now.nodes else []
            having = ((n, n.step(step)) for n in (*own, *self.now.nodes.values()))
            # What stands in for it in a graft is not the step itself.
            there = ((n.name, s.id) for n, s in having if s and (n.name == node or not s.stands_in))
            self._now[node, step] = next(there, (node, step))
        return self._now[node, step]


def _last_shaper(evaluator: Evaluator, node: str, line: PlaceLine) -> str:
    """Return the id of the own step that last shaped a line, empty when none did."""
    if not line.is_inner_dart:
        return evaluator.summary(node).shaped.get(str(line), "")
    shaper = ""
    for before, after in pairwise(evaluator.stages(node)):
        if after.step and _shape(before.draft, line) != _shape(after.draft, line):
            shaper = after.step.id
    return shaper


def _shape(draft: Draft, line: PlaceLine) -> Shape | None:
    """Return the shape of a line up to a rigid motion, None where a draft does not have it."""
    if not draft.has_piece(line.piece):
        return None
    piece = draft.piece(line.piece)
    if line.is_inner_dart:
        return next((_dart_shape(d) for d in piece.inner_darts if d.name == line.name), None)
    return shape_of(piece, line.name) if line.name in piece.edge_names else None


def _dart_shape(dart: InnerDart) -> Shape:
    axis = dart.lower - dart.upper
    frame = unit(axis) if abs(axis) > SAME_POINT else 1 + 0j
    points = ((point - dart.upper) / frame for point in (dart.left, dart.right, dart.lower))
    return tuple(round(amount / SHAPE_GRID) for p in points for amount in (p.real, p.imag))
