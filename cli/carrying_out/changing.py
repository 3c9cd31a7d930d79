"""Propose a change of a kind from what was written for its parameters, as the verbs take it."""

from collections.abc import Mapping, Sequence
from typing import Any

from trueup.geometry.changes import kind_named, read_change
from trueup.lineage.files.records import Role
from trueup.lineage.garments.mending import mending
from trueup.lineage.proposal import Proposal
from trueup.lineage.writable import WritableWardrobe


def proposed_change(
    wardrobe: WritableWardrobe,
    node: str,
    kind: str,
    values: Mapping[str, Any],
    role: Role,
    why: str = "",
    mends: Sequence[str] = (),
) -> Proposal:
    """Return the step of one change at the end of a node's chain, which may mend fit notes."""
    state = wardrobe.state
    state.node(node)
    change = read_change(kind_named(kind), values, state.unit, wardrobe.evaluator.body(node))
    proposal = wardrobe.propose_steps(node, [change], role, why)
    return mending(wardrobe, proposal, mends) if mends else proposal
