"""Promote: a correction leaves a pattern's chain and stands at the end of an ancestor's."""

from dataclasses import dataclass

from trueup.geometry.comparing.difference import Difference, difference
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import NodeRecord, replace
from trueup.lineage.files.state import State
from trueup.lineage.promotion.amounts import Wish, steps_above
from trueup.lineage.promotion.errors import CannotPromote, ComesOutDifferent
from trueup.lineage.promotion.moving import Moving, ancestor_for, moving
from trueup.lineage.proposal import Proposal
from trueup.lineage.replay.edits import Edit
from trueup.lineage.writable import WritableWardrobe


@dataclass(frozen=True)
class Outcome:
    """What becomes of the pattern a correction leaves; without `difference` where it is exact."""

    node: str
    ancestor: str
    is_exact: bool
    difference: Difference

    @property
    def is_as_drawn(self) -> bool:
        """Return whether it is exact, or differs by nothing that could be drawn."""
        return self.is_exact or self.difference.is_noise

    def require_as_drawn(self) -> None:
        """Raise ComesOutDifferent where the pattern does not come out as it was drawn."""
        if self.is_as_drawn:
            return
        largest = self.difference.largest
        raise ComesOutDifferent(
            self.node,
            self.ancestor,
            largest.edge if largest else "",
            largest.moved if largest else None,
            len(self.difference.edges),
        )


@dataclass(frozen=True)
class Promotion:
    """A promotion worked out to the end and not yet recorded."""

    outcome: Outcome
    proposal: Proposal


def propose_promotion(
    wardrobe: WritableWardrobe,
    node: str,
    step: str,
    to: str | None = None,
    wish: Wish = Wish(),  # noqa: B008  (frozen)
    why: str = "",
) -> Promotion:
    """Propose to move a correction of a node up; `step` is its id or that of its fitting.

    Without `to` it goes to the node that last shaped the place before it was made. Raises
    NoSuchNode, NoSuchStep, CannotPromote, AmountAsked, CannotStep; nothing is written.
    """
    edit = promote(wardrobe.evaluator, node, step, to, wish, why)
    result = outcome(wardrobe.evaluator, node, edit)
    return Promotion(result, wardrobe.propose("promote", edit))


def promote(
    evaluator: Evaluator,
    node: str,
    step: str,
    to: str | None = None,
    wish: Wish = Wish(),  # noqa: B008  (frozen)
    why: str = "",
) -> Edit:
    """Return the edit that moves a correction up; raises what `propose_promotion` raises."""
    move = moving(evaluator, node, step)
    ancestor = evaluator.state.node(ancestor_for(evaluator, move, to))
    twice = next((s.id for s in move.steps if ancestor.step(s.id)), None)
    if twice:
        raise CannotPromote(node, f"{ancestor.name} has {twice} already; drop it here instead")
    steps = steps_above(evaluator, move, ancestor, wish)
    above = replace(ancestor, steps=(*ancestor.steps, *steps))
    subject = f"Promote from {node} to {ancestor.name}: {move.kinds}"
    nodes = _told_anew(evaluator.state, move, above)
    return Edit(nodes, ancestor.name, steps, subject, why, judged_from=(move.node_without,))


def _told_anew(state: State, move: Moving, above: NodeRecord) -> tuple[NodeRecord, ...]:
    """Return both nodes, and all whose conflicts tell of the correction where it was."""
    ids = {step.id for step in move.steps}
    changed = {above.name: above, move.node.name: move.node_without}
    for name, record in {**state.nodes, **changed}.items():
        conflicts = tuple(
            replace(c, corrected=above.name)
            if c.corrected == move.node.name and ids & set(c.correction.split())
            else c
            for c in record.conflicts
        )
        if conflicts != record.conflicts:
            changed[name] = replace(record, conflicts=conflicts)
    return tuple(changed.values())


def outcome(evaluator: Evaluator, node: str, edit: Edit) -> Outcome:
    """Return what an edit that promotes makes of the node the correction leaves."""
    before, after = evaluator.draft(node), evaluator.beside(*edit.nodes).draft(node)
    found = difference(before, after)
    return Outcome(node, edit.node, fingerprint(before) == fingerprint(after), found)
