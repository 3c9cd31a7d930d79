"""Random wardrobes: a block, patterns three levels deep with steps of every kind, and a fitting."""

from dataclasses import dataclass
from random import Random
from typing import Any

from tests.lineage.making import block, child
from trueup.geometry.changes import Change, kind_named, read_change
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.steps import step_from
from trueup.lineage.files.records import NodeRecord, ParentRecord, Role

DARTS = ("front.bust", "front.waist", "front.waist-side", "back.waist", "back.shoulder")


@dataclass(frozen=True)
class Afterwards:
    """What is done to one step of a fitting later: it is given another amount, or taken out."""

    at: int
    by: str = ""


@dataclass(frozen=True)
class Case:
    """Nodes, and a fitting made on the block after what was made `before` it.

    The nodes `holding` stay on the block and its patterns as they were before anything was made.
    """

    nodes: tuple[NodeRecord, ...]
    fitting: tuple[Change, ...]
    before: tuple[Change, ...] = ()
    holding: tuple[str, ...] = ()
    afterwards: Afterwards | None = None


def case(seed: int, version: int | None = None) -> Case:
    """Return the case of a seed, always the same; its steps of an earlier version of their kinds.

    Without one they are of the latest.
    """
    dice = Random(seed)
    nodes = [block()]
    for index in range(dice.randint(2, 4)):
        name = f"p{index}"
        parents = [ParentRecord(dice.choice(nodes[-3:]).name)]
        roles = [Role.STYLE] * dice.randint(0, 3) + [Role.CORRECTION] * (dice.random() < 0.2)
        steps = [
            step_from(
                any_change(dice, looks=role is Role.STYLE, version=version),
                role,
                f"{name}s{number}",
            )
            for number, role in enumerate(roles)
        ]
        nodes.append(child(name, *steps, of=parents))
    fitting = [
        any_change(dice, looks=False, version=version) for _ in range(dice.choice((1, 1, 2, 3)))
    ]
    return Case(tuple(nodes), tuple(fitting))


def any_change(dice: Random, *, looks: bool, version: int | None = None) -> Change:
    def mm(low: float, high: float) -> str:
        amount = round(dice.uniform(low, high), 1)
        return f"{amount or 1.0:g}mm"

    turned = {"dart": "front.bust"}
    piece = dice.choice(("front", "back"))
    share = dice.choice(("30%", "50%", "70%", "90%"))
    ways: list[tuple[str, dict[str, Any]]] = [
        ("scoop-armhole", {"piece": "front", "by": mm(2, 15), "at": f"{share} from underarm"}),
        ("scoop-armhole", {"piece": "back", "by": mm(1, 5)}),
        ("deepen-dart", {"dart": dice.choice(DARTS), "by": mm(-5, 10)}),
        ("release-dart", {"dart": dice.choice(DARTS)}),
        ("move-apex", {"dart": dice.choice(DARTS), "by": mm(4, 20)}),
        ("shorten-shoulder", {"by": mm(-8, 12)}),
        ("slope-shoulder", {"by": mm(-8, 8)}),
        ("lower-armhole", {"by": mm(2, 20)}),
        ("lower-neck", {"piece": piece, "by": mm(2, 15)}),
        ("widen-neck", {"by": mm(2, 10)}),
        ("true-hem", {"piece": piece, "by": mm(-12, 12)}),
        ("lengthen", {"by": mm(20, 200)}),
        ("redraw-edge", {"edge": f"{piece}.hem", "through": f"50%:{mm(-10, 10)}"}),
        ("redraw-edge", {"edge": "front.armhole", "through": f"30%:{mm(18, 22)} 70%:34mm"}),
    ]
    if looks:
        ways += [
            ("rotate-dart", {**turned, "edge": "front.side", "at": "35% from underarm"}),
            ("rotate-dart", {**turned, "edge": "front.shoulder", "at": "50% from neck-point"}),
            ("shape-neck", {"piece": piece, "shape": dice.choice(("round", "v", "square"))}),
            ("refit-cap", {}),
            ("true-hem", {"piece": piece}),
            ("add-ease", {"by": mm(10, 60)}),
            ("shift-shoulder", {"by": mm(2, 10)}),
            ("raise-cap", {"by": mm(5, 12)}),
            ("widen-sleeve", {"by": mm(10, 40)}),
        ]
    kind, values = dice.choice(ways)
    return read_change(kind_named(kind, version), values, Unit.MILLIMETRE)
