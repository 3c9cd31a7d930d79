"""Try one random case: make the fitting, and hold every verdict against what was sampled."""

from collections.abc import Iterable
from dataclasses import dataclass

from tests.judging.judge import SIDES, Arrival, arrivals
from tests.judging.random_wardrobes import Afterwards, Case, case
from tests.judging.wider_wardrobes import wider_case
from tests.lineage.making import Bench, state
from trueup.geometry.changes import Change
from trueup.geometry.errors import GeometryError
from trueup.lineage.errors import CannotStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import NodeRecord, StepRecord
from trueup.lineage.files.records import replace as with_fields
from trueup.lineage.replay.replay import PatternReplay, Replay
from trueup.lineage.replay.verdicts import Judged, Verdict


@dataclass(frozen=True)
class Fault:
    """A verdict that is not so."""

    seed: int
    node: str
    sort: str
    tells: str


@dataclass(frozen=True)
class Trial:
    verdicts: int
    faults: tuple[Fault, ...]

    def with_more(self, other: "Trial") -> "Trial":
        return Trial(self.verdicts + other.verdicts, (*self.faults, *other.faults))


@dataclass(frozen=True)
class Made:
    """A step, and the wardrobe as it is before and after it."""

    step: StepRecord
    before: Evaluator
    after: Evaluator


def tried(seed: int, version: int | None = None) -> Trial:
    """Return how many verdicts a case brought, and those that are not so."""
    return held_to(seed, case(seed, version))


def tried_widely(seed: int) -> Trial:
    """Return how many verdicts a wider case brought, and those that are not so."""
    return held_to(seed, wider_case(seed))


def made_of(given: Case) -> Bench | None:
    """Return the wardrobe of a case with its fitting made; None where a step cannot be made."""
    bench = Bench(state(*given.nodes))
    if not _can_be_made(bench, (*given.before, *given.fitting)):
        return None
    if given.before:
        earlier = bench.head
        bench.correct("village", *given.before)
        held = [_holding(bench.state.node(name), earlier) for name in given.holding]
        bench.state = bench.state.with_nodes(held)
    bench.correct("village", *given.fitting)
    return bench


def held_to(seed: int, given: Case) -> Trial:
    """Return how many verdicts a given case brought, and those that are not so."""
    bench = made_of(given)
    if bench is None or bench.last is None:
        return Trial(0, ())
    found = bench.last
    made = _one_by_one(bench, len(given.before))
    trial = _held_against(seed, found, made)
    if given.afterwards:
        trial = trial.with_more(_later(seed, bench, made[given.afterwards.at], given.afterwards))
    return trial


def _can_be_made(bench: Bench, changes: Iterable[Change]) -> bool:
    draft = bench.evaluator.draft("village")
    try:
        for each in changes:
            draft = each.apply(draft)
    except GeometryError:
        return False
    return True


def _holding(node: NodeRecord, earlier: str) -> NodeRecord:
    return with_fields(node, parents=tuple(with_fields(p, hold=earlier) for p in node.parents))


def _one_by_one(bench: Bench, count: int) -> list[Made]:
    """Return each step of the block after the first `count`, as made one after the other."""
    block = bench.state.node("village")
    chains = [block.steps[:length] for length in range(count, len(block.steps) + 1)]
    states = [bench.state.with_nodes([with_fields(block, steps=chain)]) for chain in chains]
    between = [bench.of(each) for each in states]
    return [
        Made(step, between[index], between[index + 1])
        for index, step in enumerate(block.steps[count:])
    ]


def _later(seed: int, bench: Bench, made: Made, afterwards: Afterwards) -> Trial:
    before = bench.evaluator
    try:
        if afterwards.by and "by" in made.step.values:
            found = bench.amend("village", made.step.id, by=afterwards.by)
        else:
            found = bench.drop("village", made.step.id)
    except (CannotStep, GeometryError):
        return Trial(0, ())
    return _held_against(seed, found, [Made(made.step, before, bench.evaluator)])


def _held_against(seed: int, found: Replay, steps: list[Made]) -> Trial:
    faults: list[Fault] = []
    for pattern in found.patterns:
        each_judged = {each.steps: each for each in pattern.corrections}
        for made in steps:
            judged, step = each_judged[(made.step.id,)], made.step
            own, here = (
                (made.before.draft(name), made.after.draft(name))
                for name in ("village", pattern.name)
            )
            side = step.values.get("side")
            come = tuple(arrivals(step.kind, step.values, own, here, (side,) if side else SIDES))
            for sort in wrong(pattern, judged, come):
                tells = f"{step.kind} {dict(step.values)}: {judged.verdict.value}, {come}"
                faults.append(Fault(seed, pattern.name, sort, tells))
    return Trial(sum(len(pattern.corrections) for pattern in found.patterns), tuple(faults))


def wrong(pattern: PatternReplay, judged: Judged, come: tuple[Arrival, ...]) -> list[str]:
    """Return what is wrong with a verdict, by what is seen to have come."""
    if not come or (judged.note and judged.verdict is Verdict.CARRIED):
        return []
    wrong = []
    if judged.verdict is Verdict.CARRIED and all(each.surely_nothing for each in come):
        wrong.append("silent loss")
    elif judged.verdict is Verdict.CARRIED and any(each.surely_not_whole for each in come):
        wrong.append("false carried")
    if judged.verdict is Verdict.LOST and any(each.surely_whole for each in come):
        wrong.append("false lost")
    if judged.verdict is Verdict.PARTLY and all(each.surely_whole for each in come):
        wrong.append("false partly")
    if judged.verdict is Verdict.HELD and not all(each.surely_nothing for each in come):
        wrong.append("false held")
    if judged.verdict is Verdict.LOST and pattern.verdict in (Verdict.CARRIED, Verdict.PARTLY):
        wrong.append("a graver verdict hidden")
    if pattern.verdict is Verdict.CARRIED and pattern.conflicts:
        wrong.append("carried beside a conflict")
    # What arrived in part is asked about, or its reason is told.
    if judged.verdict is Verdict.PARTLY and not judged.note:
        wrong.append("partly without a reason")
    return wrong
