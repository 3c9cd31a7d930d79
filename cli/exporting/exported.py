"""What is exported: a node as it is, or was, and what is known of it."""

from dataclasses import dataclass

from geometry.draft import Draft
from geometry.units import Unit
from lineage.evaluate import Evaluator
from lineage.standing import Standing, standing
from lineage.summary import Summary


@dataclass(frozen=True)
class Exported:
    """A node's geometry, its measures and what does not hold; `unit` is what its maker reads."""

    node: str
    draft: Draft
    summary: Summary
    findings: tuple[Standing, ...]
    unit: Unit


def exported(evaluator: Evaluator, node: str) -> Exported:
    """Return what is known of a node; raises NoSuchNode."""
    return Exported(
        evaluator.state.node(node).name,
        evaluator.draft(node),
        evaluator.summary(node),
        standing(evaluator, node),
        evaluator.state.unit,
    )
