"""What a node's file does not say of its chain: the body it is bound to, and what it takes over."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from trueup.geometry.amounts import NO_BODY, Body
from trueup.lineage.errors import NoSuchStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import NodeRecord, StepRecord, replace


@dataclass(frozen=True)
class Surroundings:
    """The measurements a node's amounts may be bound to, and the steps it takes over, by their id.

    The steps are as they are written where they were made.
    """

    body: Body = field(default_factory=lambda: NO_BODY)
    taken: Mapping[str, StepRecord] = field(default_factory=dict)

    def step(self, node: NodeRecord, step_id: str) -> StepRecord:
        """Return a step of a node's chain, its own or taken over; raises NoSuchStep."""
        found = node.step(step_id) or self.taken.get(step_id)
        if found is None:
            raise NoSuchStep(node.name, step_id, [*self.taken, *(s.id for s in node.steps)])
        return found


NOTHING_AROUND = Surroundings()


def around(evaluator: Evaluator, name: str) -> Surroundings:
    """Return what is around a node, as an evaluator has it; nothing where there is none."""
    if name not in evaluator.state.nodes:
        return NOTHING_AROUND
    taken = evaluator.taken(name)
    steps = {each.step.id: each.step for each in taken.every} if taken else {}
    return Surroundings(evaluator.body(name), steps)


def with_step(node: NodeRecord, new: StepRecord) -> NodeRecord:
    """Return a node with a step in the place of the one of its id, own or taken over."""
    if node.step(new.id) is None:
        return replace(node, steps=(*node.steps, replace(new, stands_in=True)))
    steps = tuple(
        replace(new, stands_in=each.stands_in) if each.id == new.id else each for each in node.steps
    )
    return replace(node, steps=steps)


def without_step(node: NodeRecord, old: StepRecord) -> NodeRecord:
    """Return a node without a step: one taken over is left out, one that stands in gives way."""
    if node.step(old.id) is None and node.style is not None:
        style = replace(node.style, without=(*node.style.without, old.id))
        return replace(node, style=style)
    return replace(node, steps=tuple(each for each in node.steps if each.id != old.id))
