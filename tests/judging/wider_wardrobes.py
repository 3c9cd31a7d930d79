"""Wider random wardrobes: pieces from several parents, holds, more kinds, and a step taken back."""

from random import Random
from typing import Any

from tests.judging.random_wardrobes import Afterwards, Case, any_change, case
from tests.lineage.making import change
from trueup.geometry.changes import Change
from trueup.lineage.files.records import ParentRecord, replace


def wider_case(seed: int) -> Case:
    """Return the wider case of a seed, always the same."""
    dice = Random(seed + 0.5)
    narrow = case(seed)
    nodes = list(narrow.nodes[:1])
    for node in narrow.nodes[1:]:
        (parent,) = node.parents
        parents = taken_apart(dice, parent.name, dice.choice(nodes).name)
        nodes.append(replace(node, parents=parents))
    holding = tuple(node.name for node in nodes[1:] if dice.random() < 0.15)
    fitting = tuple(any_correction(dice) for _ in range(dice.choice((1, 2, 3))))
    at = dice.randrange(len(fitting))
    afterwards = dice.choice(
        (
            None,
            Afterwards(at),
            Afterwards(at, f"{dice.choice((0.5, 1.5, 2.0, -1.0)) * _amount(fitting[at]):.1f}mm"),
        )
    )
    return Case(tuple(nodes), fitting, (any_correction(dice),), holding, afterwards)


def any_correction(dice: Random) -> Change:
    """Return a correction of any kind that is read by sampling, and some that are not."""

    def mm(low: float, high: float) -> str:
        return f"{round(dice.uniform(low, high), 1) or 1.0:g}mm"

    if dice.random() < 0.6:
        return any_change(dice, looks=False)
    ways: list[tuple[str, dict[str, Any]]] = [
        ("add-ease", {"by": mm(-20, 60)}),
        ("raise-cap", {"by": mm(-8, 12)}),
        ("widen-sleeve", {"by": mm(-10, 40)}),
        ("lengthen", {"piece": "sleeve", "by": mm(-60, 60)}),
        ("refit-cap", {}),
        ("shift-shoulder", {"by": mm(2, 10)}),
        ("shape-neck", {"piece": "front", "shape": dice.choice(("round", "v"))}),
        ("redraw-edge", {"edge": "back.armhole", "through": f"30%:{mm(18, 22)} 70%:30mm"}),
    ]
    kind, values = dice.choice(ways)
    return change(kind, **values)


def taken_apart(dice: Random, bodice: str, sleeve: str) -> tuple[ParentRecord, ...]:
    """Return one parent for all, or one for front and back and another for the sleeve."""
    if bodice == sleeve or dice.random() < 0.5:
        return (ParentRecord(bodice),)
    return ParentRecord(bodice, ("front", "back")), ParentRecord(sleeve, ("sleeve",))


def _amount(made: Change) -> float:
    return float(getattr(made, "by", 0.0) or 0.0)
