"""What was measured, and which blocks follow it, as JSON."""

from collections.abc import Iterable
from typing import Any

from trueup.lineage.bodies.following import Following
from trueup.lineage.files.records import DraftedFor, NodeRecord
from trueup.lineage.replay.drafted_anew.measurements import Remeasured

Form = dict[str, Any]


def remeasured(found: Iterable[Remeasured]) -> list[Form]:
    """Return the measurements of a block that were taken anew, as its file writes them."""
    return [
        {"name": each.name, "before": each.before or None, "after": each.after or None}
        for each in found
    ]


def remeasurings(node: NodeRecord) -> list[Form]:
    """Return how a block was drafted anew: by id, with what the measurements were before."""
    return [
        {
            "id": each.id,
            "was": each.was,
            "why": each.why,
            "date": each.date.isoformat() if each.date else None,
        }
        for each in node.remeasured
    ]


def drafted_for(node: NodeRecord) -> Form | None:
    """Return for whom a block is drafted, and from the set of which day; None for nobody."""
    return whose(node.drafted_for)


def whose(of: DraftedFor | None) -> Form | None:
    """Return a body, and the day of its set; None for nobody's."""
    return None if of is None else {"body": of.body, "measured": of.measured.isoformat()}


def follows(found: Following) -> Form:
    """Return a block that is drafted for a body, and what of it waits."""
    return {
        "block": found.block,
        "body": found.body,
        "drafted_from": found.measured.isoformat(),
        "newest": found.since.isoformat(),
        "waiting": remeasured(found.waiting),
    }
