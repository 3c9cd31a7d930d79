"""Random wardrobes in which pieces are cut apart, and lines of their parts drawn anew."""

from dataclasses import replace
from random import Random
from typing import Any

from tests.judging.random_wardrobes import Case, case
from tests.judging.trying import Trial, held_to
from trueup.lineage.files.records import NodeRecord, Role, StepRecord
from trueup.lineage.files.records import replace as with_fields

PRINCESS = {
    "piece": "front", "begins": "armhole", "ends": "hem",
    "through": "bust waist", "line": "princess",
}  # fmt: skip
YOKE = {
    "piece": "back", "begins": "armhole", "at": "40% from shoulder-point",
    "ends": "centre", "ends_at": "25% from neck-centre", "line": "yoke",
}  # fmt: skip
OWN_LINES = ("front-side.side", "front-centre.neck", "front-centre.princess", "back-lower.side")


def tried_cut_apart(seed: int) -> Trial:
    """Return how many verdicts a case brought, and those that are not so."""
    return held_to(seed, case_cut_apart(seed))


def case_cut_apart(seed: int) -> Case:
    """Return the case of a seed with some pieces of its patterns cut apart, always the same."""
    dice = Random(seed + 0.75)
    plain = case(seed)
    return replace(plain, nodes=tuple(_cut(dice, node) for node in plain.nodes))


def _cut(dice: Random, node: NodeRecord) -> NodeRecord:
    if not node.parents or dice.random() < 0.3:
        return node
    steps = list(node.steps)
    for number, line in enumerate((PRINCESS, YOKE)):
        if dice.random() < 0.7:
            at = dice.randint(0, len(steps))
            steps.insert(at, _step(f"{node.name}c{number}", "cut-apart", 1, line))
    if dice.random() < 0.4:
        through = f"50%:{dice.randint(-4, 4) or 3}mm"
        values = {"edge": dice.choice(OWN_LINES), "through": through}
        steps.append(_step(f"{node.name}o", "redraw-edge", 2, values))
    return with_fields(node, steps=tuple(steps))


def _step(step_id: str, kind: str, version: int, values: dict[str, Any]) -> StepRecord:
    return StepRecord(step_id, Role.STYLE, kind, version, values)
