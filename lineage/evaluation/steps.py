"""Between a step as a file holds it and the change of geometry it stands for."""

import datetime
import hashlib
import json
from collections.abc import Mapping
from typing import Any

from trueup.geometry.changes import Change, kind_named, read_change, write_change
from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.files.records import Role, StepRecord


def change_of(step: StepRecord, unit: Unit) -> Change:
    """Return the change a step stands for.

    Raises NoSuchName for a kind or version this program does not know, and what `read_change`
    raises for values it cannot use.
    """
    return read_change(kind_named(step.kind, step.version), step.values, unit)


def amount_of(step: StepRecord, unit: Unit) -> float | None:
    """Return the one amount of a step, its `by`, in mm; None where it has none."""
    try:
        amount = getattr(change_of(step, unit), "by", None)
    except GeometryError:
        return None
    return float(amount) if isinstance(amount, int | float) else None


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
