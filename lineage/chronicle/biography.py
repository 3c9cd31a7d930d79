"""The biography of an edge: every step that shaped it, and how long it is sewn after each."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from trueup.geometry.calling.own_names import by_own_names
from trueup.geometry.comparing.new_shapes import reshaped_edges
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.side import unsided
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.grafting import Taken
from trueup.lineage.files.records import StepRecord


@dataclass(frozen=True)
class Shaping:
    """A step that shaped an edge; no `step` for the line a block was drafted or traced with.

    `node` is where it was made, `words` what it does; `edge` is what the edge was called then, by
    the own name of its piece; `length_mm` how long it is sewn after it, darts closed.
    """

    node: str
    step: StepRecord | None
    words: str
    edge: str
    length_mm: float


class Biographies:
    """Tells of the edges of any nodes; what the steps of one did is worked out once."""

    def __init__(self) -> None:
        self._known: dict[tuple[str, str], _OwnSteps] = {}

    def of(self, evaluator: Evaluator, node: str, edge: str) -> tuple[Shaping, ...]:
        """Return what shaped an edge, `piece.edge`, in the order of the chain, its block first.

        What stands above a step was made before it is worked out, whenever it was recorded: so a
        length says what the steps above come to with all corrections there are by now. Raises
        NoSuchNode, or NoSuchName with the edges the node has.
        """
        evaluator.draft(node).edge(*edge.split(".", 1))
        return tuple(self._newest_first(evaluator, node, edge))[::-1]

    def _newest_first(self, evaluator: Evaluator, node: str, edge: str) -> Iterator[Shaping]:
        name: str | None = evaluator.summary(node).by_own_name(edge)
        while name is not None:
            own = self._own_steps(evaluator, node)
            for done in reversed(own.steps):
                if name in done.shaped:
                    yield done.shaped[name]
                name = done.came_from.get(name, name)
                if name is None:
                    return
            giver = evaluator.giver(node, name.partition(".")[0])
            if giver is None:
                if name in own.start:
                    yield Shaping(node, None, "", name, own.start[name])
                return
            evaluator, node = giver
            known = self._own_steps(evaluator, node).edges
            name = next((each for each in (name, unsided(name)) if each in known), None)

    def _own_steps(self, evaluator: Evaluator, node: str) -> "_OwnSteps":
        key = (node, evaluator.key(node))
        if key not in self._known:
            self._known[key] = _own_steps(evaluator, node)
        return self._known[key]


@dataclass(frozen=True)
class _Done:
    """What one step did: the edges it shaped, and what those were before that are newly named.

    They are None where the step made them.
    """

    shaped: Mapping[str, Shaping]
    came_from: Mapping[str, str | None]


@dataclass(frozen=True)
class _OwnSteps:
    """The steps of one node: how long its edges are at the start, and all it has in the end."""

    start: Mapping[str, float]
    steps: tuple[_Done, ...]
    edges: frozenset[str]


def _own_steps(evaluator: Evaluator, node: str) -> _OwnSteps:
    stages = evaluator.stages(node)
    drafts = [by_own_names(stage.draft) for stage in stages]
    done = [_taken_with_a_style(evaluator, node, drafts[0])] if evaluator.taken(node) else []
    for (before, after), stage in zip(pairwise(drafts), stages[1:], strict=True):
        if stage.step is not None and after is not before:
            done.append(_done(evaluator, node, stage.step, (before, after)))
    return _OwnSteps(_lengths(drafts[0]), tuple(done), frozenset(_lengths(drafts[-1])))


def _done(evaluator: Evaluator, node: str, step: StepRecord, drafts: tuple[Draft, Draft]) -> _Done:
    before, after = drafts
    made = _shaping(evaluator, node, step.id, step)
    lengths = _lengths(after)
    shaped = {
        name: replace(made, edge=name, length_mm=lengths[name])
        for name in reshaped_edges(before, after)
    }
    known = _lengths(before)
    came_from = {
        f"{piece.name}.{edge.name}": _as_before(after, piece, edge.name, known)
        for piece in after.told_of
        for edge in piece.edges
        if f"{piece.name}.{edge.name}" not in known
    }
    return _Done(shaped, came_from)


def _as_before(after: Draft, piece: Piece, edge: str, known: Mapping[str, float]) -> str | None:
    """Return what a newly named edge was: of both sides alike, or of the piece that was cut."""
    shared = f"{piece.shared_name}.{edge}"
    if shared in known:
        return shared
    cut = next((cut for cut in after.cuts if piece.name in cut.parts), None)
    if cut is None:
        return None
    whole = f"{cut.whole.name}.{edge}"
    return whole if whole in known else _as_before(after, cut.whole, edge, known)


def _taken_with_a_style(evaluator: Evaluator, node: str, start: Draft) -> _Done:
    """Return what steps of a style did that came together of several patterns.

    They are made before the chain starts, so only the last of an edge is known.
    """
    lengths = _lengths(start)
    own = {step.id for step in evaluator.worked(node).steps}
    shaped = {
        name: replace(_shaping(evaluator, node, step, None), edge=name, length_mm=lengths[name])
        for name, step in evaluator.summary(node).shaped.items()
        if step not in own and name in lengths
    }
    return _Done(shaped, {})


def _shaping(evaluator: Evaluator, node: str, step: str, known: StepRecord | None) -> Shaping:
    """Return a step as it is written where it was made."""
    made = evaluator.source_of(node, step) or (Taken(node, known) if known else None)
    if made is None:
        return Shaping(node, None, "", "", 0.0)
    words = step_in_words(made.step, evaluator.state.unit, evaluator.body(node))
    return Shaping(made.node, made.step, words, "", 0.0)


def _lengths(draft: Draft) -> dict[str, float]:
    return {
        f"{piece.name}.{edge.name}": edge.length for piece in draft.told_of for edge in piece.edges
    }
