"""Patterns that have a correction of their own already: is "doubled" said just where it is so?

It is so where the pattern's own correction moves what a later one on its block is made for, the
same way, and the later one comes to the pattern without it: both read by sampling alone.
"""

from collections.abc import Iterator
from random import Random
from typing import Any

from tests.judging.judge import Arrival, arrivals
from tests.judging.random_wardrobes import any_change
from tests.judging.trying import Fault, Trial
from tests.judging.wider_wardrobes import taken_apart
from tests.lineage.making import Bench, block, change, child, state
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.errors import CannotStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import step_from
from trueup.lineage.files.records import NodeRecord, Role, StepRecord, replace
from trueup.lineage.replay.replay import PatternReplay
from trueup.lineage.replay.verdicts import Verdict

Pair = tuple[Draft, Draft]


def wardrobe(dice: Random) -> tuple[list[NodeRecord], StepRecord]:
    """Return nodes of which some have a correction like the one that is then made on the block."""
    nodes, own = [block()], 0
    kind, values = _correction(dice)
    for index in range(dice.randint(2, 4)):
        name = f"p{index}"
        parents = taken_apart(dice, dice.choice(nodes[-3:]).name, dice.choice(nodes).name)
        steps = []
        for _ in range(dice.randint(0, 2)):
            own += 1
            steps.append(step_from(any_change(dice, looks=True), Role.STYLE, f"s{own}"))
        if dice.random() < 0.6:
            own += 1
            other = {**values, **_again(dice, values)}
            steps.append(step_from(change(kind, **other), Role.CORRECTION, f"s{own}"))
        nodes.append(child(name, *steps, of=parents))
    return nodes, step_from(change(kind, **values), Role.CORRECTION, "new")


def _correction(dice: Random) -> tuple[str, dict[str, Any]]:
    def mm(low: float, high: float) -> str:
        return f"{round(dice.uniform(low, high), 1) or 1.0:g}mm"

    return dice.choice(
        (
            ("scoop-armhole", {"piece": "front", "by": mm(2, 8)}),
            ("scoop-armhole", {"piece": "back", "by": mm(1, 3)}),
            ("deepen-dart", {"dart": "front.bust", "by": mm(2, 6)}),
            ("shorten-shoulder", {"by": mm(2, 8)}),
            ("slope-shoulder", {"by": mm(-5, 5)}),
            ("lower-armhole", {"by": mm(2, 12)}),
            ("lower-neck", {"piece": "front", "by": mm(2, 12)}),
            ("widen-neck", {"by": mm(2, 8)}),
            ("lengthen", {"piece": "sleeve", "by": mm(10, 40)}),
        )
    )


def _again(dice: Random, values: dict[str, Any]) -> dict[str, Any]:
    """Return with what else a pattern made it: another amount, the reverse, another piece."""
    by = float(str(values["by"]).removesuffix("mm"))
    found: dict[str, Any] = {"by": f"{dice.choice((1.0, 0.5, 0.8, -0.5)) * by:.1f}mm"}
    if "piece" in values and values["piece"] != "sleeve" and dice.random() < 0.3:
        found["piece"] = dice.choice(("front", "back"))
    return found


def tried_doubled(seed: int) -> Trial:
    """Return how many verdicts a case brought, and those on what is doubled that are not so."""
    nodes, step = wardrobe(Random(seed + 0.25))
    bench = Bench(state(*nodes))
    before = bench.evaluator
    try:
        found = bench.correct("village", change(step.kind, **step.values))
    except (CannotStep, GeometryError):
        return Trial(0, ())
    after = bench.evaluator
    faults: list[Fault] = []
    for pattern in found.patterns:
        wrong = list(_wrong(bench, before, after, step, pattern))
        tells = f"{step.kind} {dict(step.values)}: {pattern.verdict.value}"
        faults += [Fault(seed, pattern.name, sort, tells) for sort in wrong]
    return Trial(len(found.patterns), tuple(faults))


def _wrong(
    bench: Bench, before: Evaluator, after: Evaluator, step: StepRecord, pattern: PatternReplay
) -> Iterator[str]:
    node = bench.state.node(pattern.name)
    own = before.draft("village"), after.draft("village")
    twice = [
        _is_twice(before, after, node, each, step, own)
        for each in node.steps
        if each.role is Role.CORRECTION and each.kind == step.kind
    ]
    (judged,) = pattern.corrections
    if judged.verdict is Verdict.DOUBLED and not any(twice):
        yield "false doubled"
    if judged.verdict not in (Verdict.DOUBLED, Verdict.HELD) and any(each == 2 for each in twice):
        yield "doubled, and not said"
    for conflict in bench.open_at(pattern.name):
        if any(remedy.name == "drop-own-copy" for remedy in conflict.remedies):
            without = _without(node, conflict.change)
            trial = Bench(bench.state, made=bench.made, earlier=dict(bench.earlier))
            trial.decide(conflict, "drop-own-copy")
            here = before.beside(without).draft(node.name), trial.evaluator.draft(node.name)
            if any(each.surely_not_whole for each in arrivals(step.kind, step.values, own, here)):
                yield "what is dropped does not bring the other"


def _is_twice(
    before: Evaluator,
    after: Evaluator,
    node: NodeRecord,
    mine: StepRecord,
    step: StepRecord,
    own: Pair,
) -> int:
    """Return whether an own step does what another does: 0 no, 2 surely, 1 where it is not sure."""
    without = _without(node, mine.id)
    bare = before.beside(without).draft(node.name)
    comes = _moves(step, own, (bare, after.beside(without).draft(node.name)))
    does = _moves(step, own, (bare, before.draft(node.name)))
    same_piece = all(
        mine.values.get(place) == step.values.get(place) for place in ("piece", "dart", "edge")
    )
    if not any(arrivals(step.kind, step.values, own, own)):
        return 1  # it moves less than is read off here
    if not comes or not does or not same_piece:
        return 0
    surely = all((e.got or 0.0) * e.wanted > 0.25 * e.wanted**2 for e in (*comes, *does))
    return 2 if surely else 1


def _moves(step: StepRecord, own: Pair, here: Pair) -> list[Arrival]:
    """Return what a step is made for and moves between two drafts, its way."""
    found = arrivals(step.kind, step.values, own, here)
    return [each for each in found if not each.surely_nothing and (each.got or 0) * each.wanted > 0]


def _without(node: NodeRecord, step: str) -> NodeRecord:
    return replace(node, steps=tuple(each for each in node.steps if each.id != step))
