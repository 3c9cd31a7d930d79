"""Random wardrobes in which steps, and corrections, are made on one side of the body alone."""

from dataclasses import replace
from random import Random

from tests.judging.random_wardrobes import Case, case
from tests.judging.trying import Trial, held_to
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.files.records import replace as with_fields

SIDES = ("left", "right")


def tried_by_side(seed: int) -> Trial:
    """Return how many verdicts a case brought, and those that are not so."""
    return held_to(seed, case_by_side(seed))


def case_by_side(seed: int) -> Case:
    """Return the case of a seed with some of its steps made on one side, always the same."""
    dice = Random(seed + 0.25)
    plain = case(seed)
    fitting = tuple(replace(each, side=_side(dice)) for each in plain.fitting)
    return replace(plain, nodes=tuple(_parted(dice, n) for n in plain.nodes), fitting=fitting)


def _parted(dice: Random, node: NodeRecord) -> NodeRecord:
    steps = []
    for step in node.steps:
        side = _side(dice)
        values = {**step.values, "side": side} if side else step.values
        steps.append(with_fields(step, values=values))
    return with_fields(node, steps=tuple(steps))


def _side(dice: Random) -> str | None:
    return dice.choice((None, *SIDES))
