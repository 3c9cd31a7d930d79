"""What is exported: a node as it is, or was, and what is known of it."""

from dataclasses import dataclass

from trueup.cli.opening import OpenToRead
from trueup.cli.sheet.facts import Facts, facts_of
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.replay.standing import Standing, standing


@dataclass(frozen=True)
class Exported:
    """A node in words, its geometry, its measures and what does not hold."""

    facts: Facts
    draft: Draft
    summary: Summary
    findings: tuple[Standing, ...]

    @property
    def node(self) -> str:
        """Return the name of the node."""
        return self.facts.node


def exported(opened: OpenToRead, node: str, as_of: str | None) -> Exported:
    """Return what is known of a node of a wardrobe, opened as of a version; raises NoSuchNode."""
    evaluator = opened.evaluator
    return Exported(
        facts_of(opened.wardrobe, evaluator, node, as_of, ""),
        evaluator.draft(node),
        evaluator.summary(node),
        standing(evaluator, node),
    )
