"""What was accepted as it is, how far that holds, and when it holds again. Pure.

An acceptance covers what it was given for and anything better: as far outside as it was then, on
the same side. Worse opens again; once it is back, it is settled as it was.
"""

import datetime

from trueup.geometry.tolerance import WORSE
from trueup.lineage.files.records import ConflictRecord, ConflictState, Decision, replace
from trueup.lineage.replay.collisions import Collision
from trueup.lineage.replay.curing.names import ACCEPT
from trueup.lineage.replay.curing.remedies import holds


def accepted(record: ConflictRecord, why: str, date: datetime.date) -> ConflictRecord:
    """Return a conflict accepted as far outside as it is, with what was measured, and why."""
    decision = Decision(ACCEPT, why, date, record.excess_mm, record.after_mm)
    return replace(
        record,
        state=ConflictState.ACCEPTED,
        remedies=(),
        decisions=(*record.decisions, decision),
    )


def as_accepted(record: ConflictRecord) -> ConflictRecord | None:
    """Return a conflict as it was when it was accepted last; None where it was not."""
    last = record.decisions[-1] if record.decisions else None
    if last is None or last.remedy != ACCEPT:
        return None
    if last.accepted_excess is None:
        # Recorded before amounts were: it holds as long as the record was left alone.
        return record if record.state is ConflictState.ACCEPTED else None
    then = replace(record, excess_mm=last.accepted_excess, after_mm=last.accepted_at_mm)
    return replace(then, state=ConflictState.ACCEPTED, remedies=())


def accepted_again(record: ConflictRecord, collision: Collision) -> ConflictRecord | None:
    """Return a conflict that came back to what was accepted, or better, as accepted; else None."""
    then = as_accepted(record)
    if then is None or collision.is_worse_than(then):
        return None
    return replace(then, says=collision.says)


def covered(known: ConflictRecord, found: ConflictRecord) -> ConflictRecord | None:
    """Return a known conflict as accepted where that covers what was found of it now; else None.

    Both are of a kind that is not measured in the drafts: their excess is the amount in question.
    """
    then = as_accepted(known)
    if then is None or holds(known) or not then.excess_mm or not found.excess_mm:
        return None
    return then if found.excess_mm <= then.excess_mm + WORSE else None
