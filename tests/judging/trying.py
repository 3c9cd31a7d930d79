"""Try one random case: make the fitting, and hold every verdict against what was sampled."""

from dataclasses import dataclass

from geometry.errors import GeometryError
from lineage.evaluate import Evaluator
from lineage.records import replace as with_fields
from lineage.replay import PatternReplay
from lineage.verdicts import Judged, Verdict
from tests.judging.judge import Arrival, arrivals
from tests.judging.random_wardrobes import Case, case
from tests.lineage.making import Bench, state


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


def tried(seed: int) -> Trial:
    """Return how many verdicts a case brought, and those that are not so."""
    given = case(seed)
    bench = Bench(state(*given.nodes))
    if not _can_be_made(bench, given):
        return Trial(0, ())
    found = bench.correct("village", *given.fitting)
    steps = bench.state.node("village").steps
    between = [
        Evaluator(
            bench.state.with_nodes([with_fields(bench.state.node("village"), steps=steps[:count])])
        )
        for count in range(len(steps) + 1)
    ]
    faults: list[Fault] = []
    for pattern in found.patterns:
        each_judged = {each.steps: each for each in pattern.corrections}
        for count, step in enumerate(steps):
            judged = each_judged[(step.id,)]
            own = between[count].draft("village"), between[count + 1].draft("village")
            here = between[count].draft(pattern.name), between[count + 1].draft(pattern.name)
            come = tuple(arrivals(step.kind, step.values, own, here))
            for sort in _wrong(pattern, judged, come):
                tells = f"{step.kind} {dict(step.values)}: {judged.verdict.value}, {come}"
                faults.append(Fault(seed, pattern.name, sort, tells))
    count = sum(len(pattern.corrections) for pattern in found.patterns)
    return Trial(count, tuple(faults))


def _wrong(pattern: PatternReplay, judged: Judged, come: tuple[Arrival, ...]) -> list[str]:
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
    if judged.verdict is Verdict.LOST and pattern.verdict in (Verdict.CARRIED, Verdict.PARTLY):
        wrong.append("a graver verdict hidden")
    if pattern.verdict is Verdict.CARRIED and pattern.conflicts:
        wrong.append("carried beside a conflict")
    return wrong


def _can_be_made(bench: Bench, given: Case) -> bool:
    draft = bench.evaluator.draft("village")
    try:
        for each in given.fitting:
            draft = each.apply(draft)
    except GeometryError:
        return False
    return True
