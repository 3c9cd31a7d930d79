"""Patterns told to stay: do they stay as they were, and follow as if they had never stayed?

Each line of a draft is compared point by point as it is sampled.
"""

from random import Random

import numpy as np

from tests.judging.random_wardrobes import any_change, case
from tests.judging.sampled import sampled
from tests.judging.trying import Fault, Trial
from tests.lineage.making import Bench, state
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.errors import CannotStep
from trueup.lineage.files.records import replace
from trueup.lineage.replay.verdicts import Verdict

SAME = 1e-6


def tried_holding(seed: int) -> Trial:
    """Return how many verdicts came while a pattern stayed, and what was not so of them."""
    dice, given = Random(seed + 0.75), case(seed)
    bench = Bench(state(*given.nodes))
    drafts = {node.name: bench.evaluator.draft(node.name) for node in given.nodes}
    try:
        bench.correct("village", *given.fitting)
    except (CannotStep, GeometryError):
        return Trial(0, ())
    asked = [c for c in bench.state.open_conflicts if any(r.name == "hold" for r in c.remedies)]
    if not asked:
        return Trial(0, ())
    conflict = dice.choice(asked)
    name, wrong = conflict.arose_at, []
    try:
        bench.decide(conflict, "hold")
        if not same(drafts[name], bench.evaluator.draft(name)):
            wrong.append("it did not stay")
        found = bench.correct("village", any_change(dice, looks=False))
    except (CannotStep, GeometryError):
        return Trial(0, ())
    if not same(drafts[name], bench.evaluator.draft(name)):
        wrong.append("it moved while it stayed")
    verdicts = [each.verdict for each in found.patterns if each.name == name]
    if any(each is not Verdict.HELD for each in verdicts):
        wrong.append(f"it stays, and is called {verdicts[0].value}")
    bench.decide(conflict.id, "follow")
    if not same(_never_held(bench, name), bench.evaluator.draft(name)):
        wrong.append("it follows, and is not as if it had never stayed")
    faults = tuple(Fault(seed, name, each, str(conflict.says)) for each in wrong)
    return Trial(len(found.patterns) + 1, faults)


def _never_held(bench: Bench, name: str) -> Draft:
    """Return a node as it is where no node was ever told to stay."""
    free = [
        replace(node, parents=tuple(replace(parent, hold=None) for parent in node.parents))
        for node in bench.state.nodes.values()
    ]
    return Bench(bench.state.with_nodes(free)).evaluator.draft(name)


def same(old: Draft, new: Draft) -> bool:
    """Return whether two drafts have the same lines in the same places."""
    lines = [
        {
            (piece.name, edge.name): np.concatenate(sampled(edge))
            for piece in draft.pieces
            for edge in piece.edges
        }
        for draft in (old, new)
    ]
    return lines[0].keys() == lines[1].keys() and all(
        len(line) == len(lines[1][name]) and np.abs(line - lines[1][name]).max() < SAME
        for name, line in lines[0].items()
    )
