"""Remedies tried out before they are offered: does it settle its conflict, and what does it leave?

A change that would be added is applied to the draft at hand and checked; a chain with other steps
is evaluated anew beside the wardrobe. Nothing is kept of either.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.errors import GeometryError
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.unstated import unsewn_lines, unsewn_pieces
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import LeftOpen, NodeRecord, Remedy, StepRecord, replace
from trueup.lineage.replay.collisions import (
    UNSTATED,
    Collision,
    Key,
    collisions,
    of_findings,
    of_unstated,
)

Found = Mapping[Key, Collision]


@dataclass(frozen=True)
class Trials:
    """Tries out at one node what could be done there, against what does not hold there now."""

    evaluator: Evaluator
    node: NodeRecord

    @property
    def draft(self) -> Draft:
        """Return the draft of the node as it is."""
        return self.evaluator.draft(self.node.name)

    @property
    def now(self) -> Found:
        """Return what does not hold as it is."""
        return collisions(self.evaluator.summary(self.node.name))

    def of_cures(self, cures: Iterable[Remedy], key: Key) -> tuple[Remedy, ...]:
        """Return the remedies after which a collision is gone, those that leave nothing first."""
        settling = []
        for cure in cures:
            after = self._after(cure)
            if after is not None and key not in after:
                settling.append(replace(cure, leaves=left_open(self.now, after)))
        return tuple(sorted(settling, key=lambda cure: bool(cure.leaves)))

    def with_steps(self, steps: tuple[StepRecord, ...]) -> Found | None:
        """Return what would not hold with other steps; None where one could not be carried out."""
        tried = replace(self.node, steps=steps)
        summary = self.evaluator.beside(tried).summary(self.node.name)
        known = {problem.step for problem in self.evaluator.summary(self.node.name).problems}
        if any(problem.step not in known for problem in summary.problems):
            return None
        return collisions(summary)

    def _after(self, cure: Remedy) -> Found | None:
        if cure.kind is None:
            return None
        try:
            change = read_change(
                kind_named(cure.kind, cure.version), cure.values, self.evaluator.state.unit
            )
            changed = change.apply(self.draft)
            after = {
                **of_findings(check(changed), changed.called_names),
                **of_unstated(
                    (*unsewn_pieces(changed), *unsewn_lines(changed)), changed.called_names
                ),
            }
        except GeometryError:
            return None
        # A step of the chain that cannot be carried out stays so.
        return {**{k: c for k, c in self.now.items() if c.change}, **after}


def left_open(now: Found, after: Found) -> tuple[LeftOpen, ...]:
    """Return what would not hold after something was done, and holds, or holds better, now."""
    return tuple(
        LeftOpen(each.code, each.piece, each.edge, round(each.excess, 1))
        for key, each in after.items()
        if (key not in now or _is_worse(each, now[key])) and not _was_unstated(each, now)
    )


def _was_unstated(after: Collision, now: Found) -> bool:
    """Return whether nothing was said of a line before, as of no other of its piece."""
    piece = after.own_name or after.piece
    return after.code == UNSTATED and (UNSTATED, piece, "") in now


def _is_worse(after: Collision, now: Collision) -> bool:
    """Return whether something is worse than it was: where it is worst, or a seam in all."""
    in_all = _in_all(after) > _in_all(now) + after.slack
    return in_all or after.is_worse(now.excess, now.side)


def _in_all(seam: Collision) -> float:
    """Return how far a seam lies outside what it may hold in all, mm; nought for all else."""
    facts = seam.says.facts
    ease, low, high = (facts.get(name) for name in ("ease", "low", "high"))
    if not (isinstance(ease, float) and isinstance(low, float) and isinstance(high, float)):
        return 0.0
    return max(low - ease, ease - high, 0.0)
