"""Between a step as a file holds it and the change of geometry it stands for."""

import datetime
import hashlib
import json
from collections.abc import Mapping
from typing import Any

from trueup.geometry.amounts import NO_BODY, Body, read_length
from trueup.geometry.changes import Change, bound_lengths, kind_named, read_change, write_change
from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit, write_length
from trueup.lineage.files.records import Role, StepRecord, replace


def change_of(step: StepRecord, unit: Unit, body: Body = NO_BODY) -> Change:
    """Return the change a step stands for; amounts bound to the body as they come to on it.

    Raises NoSuchName for a kind or version this program does not know, and what `read_change`
    raises for values it cannot use.
    """
    return read_change(kind_named(step.kind, step.version), step.values, unit, body)


def amount_of(step: StepRecord, unit: Unit, body: Body = NO_BODY) -> float | None:
    """Return the one amount of a step, its `by`, in mm; None where it has none."""
    try:
        amount = getattr(change_of(step, unit, body), "by", None)
    except GeometryError:
        return None
    return float(amount) if isinstance(amount, int | float) else None


def resolved(step: StepRecord, unit: Unit, body: Body) -> StepRecord:
    """Return a step with the lengths that are bound to the body written as they come to on it.

    One that cannot be worked out stays as it is written: carrying it out says why.
    """
    values = dict(step.values)
    for name in bound_lengths(step.kind, step.version, step.values):
        try:
            values[name] = write_length(read_length(values[name], unit, body))
        except GeometryError:
            continue
    return step if values == step.values else replace(step, values=values)


def step_from(
    change: Change,
    role: Role,
    step_id: str,
    *,
    why: str = "",
    date: datetime.date | None = None,
    fitting: str | None = None,
    settles: str | None = None,
) -> StepRecord:
    """Return the step that records a change, with its values written in full units."""
    return StepRecord(
        step_id,
        role,
        change.kind,
        change.version,
        write_change(change),
        why,
        date,
        fitting,
        settles,
    )


def step_id(head: str, node: str, kind: str, values: Mapping[str, Any], taken: int = 0) -> str:
    """Return the id of a step: the same for the same change made on the same version.

    So a preview and the step that follows it agree, and two makers who both make one correction
    from one version made one step. `taken` tells apart the steps of one fitting.
    """
    text = json.dumps([head, node, kind, dict(values), taken], sort_keys=True, default=str)
    return hashlib.sha256(text.encode()).hexdigest()[:8]
