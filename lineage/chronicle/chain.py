"""How a pattern came to be, from its block on: every step in words with what it measured."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from trueup.geometry.calling.own_names import by_own_names, in_names
from trueup.geometry.errors import GeometryError
from trueup.geometry.measuring.measures import measures
from trueup.geometry.said import Said
from trueup.geometry.sides.naming import names_at
from trueup.geometry.sides.telling import told_of
from trueup.geometry.tolerance import UNCHANGED
from trueup.lineage.chronicle.chronicle import Chronicle
from trueup.lineage.chronicle.entry import DECIDE, REMEASURE, Entry
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.evaluation.chain import Stage
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.grafting import Taken
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import ConflictRecord, NodeRecord, ParentRecord, StepRecord
from trueup.lineage.replay.verdicts import MeasureChange, measure_changes
from trueup.lineage.store import Commit
from trueup.lineage.trail import EDIT, VERB

_MAY_DRAFT_ANEW = (REMEASURE, DECIDE, EDIT)


@dataclass(frozen=True)
class ExplainedStep:
    """One step of a chain: what it does in words, what was measured, what it ran into.

    `commit` is the one that first recorded it, None where the history does not say; `measures`
    are those that it changed; `left_out` says why it could not be carried out. `taken_from` is the
    node whose step it is, where it was taken over with a style.
    """

    step: StepRecord
    words: str
    commit: Commit | None
    measures: tuple[MeasureChange, ...]
    conflicts: tuple[ConflictRecord, ...]
    left_out: Said | None = None
    taken_from: str = ""


@dataclass(frozen=True)
class Chapter:
    """One node of a lineage: what it starts from, its steps, and conflicts that no step of its own
    is part of. `held` is the version it is told as of, where a node below stays on it; `remeasured`
    are the entries that drafted it anew and stand, oldest first. What steps changed is told of
    pieces as they are `called` in the end, by own names.
    """

    node: NodeRecord
    held: str | None
    starts_with: Mapping[str, float]
    steps: tuple[ExplainedStep, ...]
    conflicts: tuple[ConflictRecord, ...]
    remeasured: tuple[Entry, ...] = ()
    called: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Explanation:
    """The chapters of a pattern's lineage, its block first.

    `drafted` is what its pieces measured when their blocks were drafted, `measures` what they
    measure in the end, mm.
    """

    node: NodeRecord
    chapters: tuple[Chapter, ...]
    drafted: Mapping[str, float]
    measures: Mapping[str, float]

    @property
    def moved(self) -> tuple[MeasureChange, ...]:
        """Return the measures any step changed: as the first node started, and as they are now."""
        names = dict.fromkeys(
            in_names(each.name, {called: own for own, called in part.called.items()})
            for part in self.chapters
            for told in part.steps
            for each in told.measures
        )
        wanted = (each for name in names for each in names_at(self.measures, name))
        found = measure_changes(wanted, self.drafted, self.measures)
        called = self.chapters[-1].called
        return tuple(_as_called(each, called) for each in found if _is_change(each))


def explain(chronicle: Chronicle, node: str) -> Explanation:
    """Return how a node came to be, all it derives from included; raises NoSuchNode."""
    evaluator = chronicle.now
    record = evaluator.state.node(node)
    measured = evaluator.summary(node).measures
    places: dict[tuple[str | None, str], Evaluator] = {}
    _walk_up(evaluator, node, None, places)
    chapters = tuple(
        _chapter(chronicle, source, name, held) for (held, name), source in places.items()
    )
    drafted = _drafted(evaluator, node)
    return Explanation(record, chapters, drafted, measured)


def chapter(chronicle: Chronicle, node: str) -> Chapter:
    """Return the chapter of a node alone, without those above it; raises NoSuchNode."""
    return _chapter(chronicle, chronicle.now, node, None)


def _drafted(evaluator: Evaluator, node: str) -> dict[str, float]:
    """Return what the pieces of a node measured in the blocks they come from, as drafted.

    Measures between pieces of several blocks are left out, but for those named after one piece.
    """
    found: dict[str, float] = {}
    roots: dict[str, dict[str, float]] = {}
    summary = evaluator.summary(node)
    for piece in map(summary.own_name, summary.pieces):
        source, root = evaluator, node
        while giver := source.giver(root, piece):
            source, root = giver
        if root not in roots:
            roots[root] = measures(source.stages(root)[0].draft)
        found |= {n: v for n, v in roots[root].items() if n.startswith(f"{piece}.")}
    if len(roots) == 1:
        found |= next(iter(roots.values()))
    return found


def _walk_up(
    evaluator: Evaluator,
    node: str,
    held: str | None,
    places: dict[tuple[str | None, str], Evaluator],
) -> None:
    """Collect a node and all above it, parents first, each at the version it is followed at."""
    for parent in evaluator.state.node(node).parents:
        if (parent.hold or held, parent.name) not in places:
            _walk_up(_followed(evaluator, parent), parent.name, parent.hold or held, places)
    places[held, node] = evaluator


def _followed(evaluator: Evaluator, parent: ParentRecord) -> Evaluator:
    if parent.hold is None or evaluator.earlier is None:
        return evaluator
    return evaluator.earlier(parent.hold)


def _chapter(chronicle: Chronicle, evaluator: Evaluator, name: str, held: str | None) -> Chapter:
    node = evaluator.state.node(name)
    stages = evaluator.stages(name)
    called = stages[-1].draft.called_names
    steps: dict[str, ExplainedStep] = {}
    for run in (*evaluator.beneath(name), stages):
        for told in _told(chronicle, evaluator, node, run, called):
            # What several parts of a style were made on stands beneath each of them.
            steps.setdefault(told.step.id, told)
    others = tuple(each for each in node.conflicts if each.change not in steps)
    starts_with = measures(by_own_names(stages[0].draft))
    anew = tuple(_anew(chronicle, node, held))
    return Chapter(node, held, starts_with, tuple(steps.values()), others, anew, called)


def _told(
    chronicle: Chronicle,
    evaluator: Evaluator,
    node: NodeRecord,
    stages: Sequence[Stage],
    called: Mapping[str, str],
) -> Iterator[ExplainedStep]:
    """Yield each step of a chain with what it changed, pieces as they are `called` at last."""
    unit, body = evaluator.state.unit, evaluator.body(node.name)
    taken = [measures(by_own_names(stage.draft)) for stage in stages]
    for index, stage in enumerate(stages):
        if stage.step is None:
            continue
        written = _as_written(evaluator, node.name, stage.step)
        moved = _moved(evaluator, stages[index - 1], stage.step, taken[index - 1], taken[index])
        yield ExplainedStep(
            written.step,
            step_in_words(written.step, unit, body),
            chronicle.first_recorded.get(stage.step.id),
            tuple(_as_called(each, called) for each in moved),
            tuple(each for each in node.conflicts if each.change == stage.step.id),
            stage.problem.says if stage.problem else None,
            written.node if written.node != node.name else "",
        )


def _as_written(evaluator: Evaluator, name: str, step: StepRecord) -> Taken:
    """Return a step of a chain as it is written where it was made."""
    return evaluator.source_of(name, step.id) or Taken(name, step)


def _anew(chronicle: Chronicle, node: NodeRecord, held: str | None) -> Iterator[Entry]:
    """Yield the entries that drafted a block anew, oldest first; none that were taken back.

    Where it is told as of a version, those up to that.
    """
    if node.draft is None:
        return
    commits = chronicle.wardrobe.history((node.path,), until=held or chronicle.until)
    for commit in reversed(tuple(commits)):
        may = commit.trailers.get(VERB) in _MAY_DRAFT_ANEW
        if may and commit.id not in chronicle.taken_back:
            entry = chronicle.entry(commit)
            if entry.node == node.name and entry.remeasured:
                yield entry


def _moved(
    evaluator: Evaluator,
    before: Stage,
    step: StepRecord,
    old: Mapping[str, float],
    new: Mapping[str, float],
) -> Iterator[MeasureChange]:
    """Yield the measures a step was about and did change; all that changed where it names none."""
    names: list[str] = []
    try:
        change = change_of(step, evaluator.state.unit)
        names = [
            name
            for read in (change.meant, change.knock_on)
            for name in told_of(read, before.draft, change.side)
        ]
    except GeometryError:
        pass
    about = [each for each in measure_changes(names, old, new) if _is_change(each)]
    everything = measure_changes((*old, *new), old, new)
    yield from about or [each for each in everything if _is_change(each)]


def _as_called(measure: MeasureChange, called: Mapping[str, str]) -> MeasureChange:
    return replace(measure, name=in_names(measure.name, called)) if called else measure


def _is_change(measure: MeasureChange) -> bool:
    return abs(measure.change_mm) > UNCHANGED
