"""Patterns that stay on an earlier version of what they follow, and what passes them by."""

from collections.abc import Iterator

from msgspec import Struct

from trueup.lineage.errors import WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import ConflictState, NodeRecord, ParentRecord, Role
from trueup.lineage.garments.since import (
    ChangedStep,
    RemeasuredBlock,
    blocks_remeasured,
    changed_steps,
)
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.replay.curing import remedies


class StaysBehind(Struct, frozen=True):
    """That a node stays on an earlier `version` of its `parent`, and since when.

    `missed` are the corrections of the parent since, and `blocks` those measured anew, that do not
    reach it; `missed` is None where that version cannot be read. `conflict` is the one that was
    decided so, and `why` the maker's reason; both empty where it was said when the node was made.
    """

    node: str
    parent: str
    version: str
    missed: tuple[ChangedStep, ...] | None
    blocks: tuple[RemeasuredBlock, ...] = ()
    conflict: str = ""
    why: str = ""


def staying_behind(wardrobe: OpenWardrobe, now: Evaluator) -> Iterator[StaysBehind]:
    """Yield every node that stays on an earlier version of another, parents first."""
    state = now.state
    for name in state.in_order:
        for parent in state.nodes[name].followed:
            if parent.hold is not None:
                yield _staying(wardrobe, now, state.nodes[name], parent)


def _staying(
    wardrobe: OpenWardrobe, now: Evaluator, node: NodeRecord, parent: ParentRecord
) -> StaysBehind:
    version = parent.hold or ""
    decided = next(
        (
            (each.id, each.decisions[-1].why)
            for each in reversed(node.conflicts)
            if each.state is ConflictState.ACCEPTED and each.decisions and remedies.holds(each)
        ),
        ("", ""),
    )
    try:
        then = wardrobe.evaluator_at(version)
        found = changed_steps(parent.name, then, now)
        blocks = blocks_remeasured(parent.name, then, now)
    except WardrobeError:
        return StaysBehind(node.name, parent.name, version, None, (), *decided)
    missed = tuple(each for each in found if each.step.role is Role.CORRECTION)
    return StaysBehind(node.name, parent.name, version, missed, blocks, *decided)
