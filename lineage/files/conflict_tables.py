"""Conflicts as the tables of a node's file."""

from collections.abc import Sequence
from typing import Any

import tomlkit
from msgspec.structs import asdict

from trueup.geometry.said import Said
from trueup.lineage.files.records import ConflictRecord, Remedy
from trueup.lineage.files.tables.tables import present, sync


def conflicts_text(conflicts: Sequence[ConflictRecord]) -> bytes:
    """Return the tables of conflicts as text to be put below a file that has none."""
    document = tomlkit.document()
    sync(document, "conflicts", (), conflicts, lambda c: c.id, conflict_fields)
    return tomlkit.dumps(document).encode()


def conflict_fields(conflict: ConflictRecord) -> dict[str, Any]:
    """Return what is written of a conflict, in the order of the file."""
    return {
        "id": conflict.id,
        "kind": conflict.kind.value,
        "state": conflict.state.value,
        "says": _says(conflict.says),
        "arose_at": conflict.arose_at,
        "piece": conflict.piece,
        "edge": conflict.edge,
        "code": conflict.code,
        **present(
            own_name=conflict.own_name,
            correction=conflict.correction,
            corrected=conflict.corrected,
            change=conflict.change,
            before_mm=conflict.before_mm,
            after_mm=conflict.after_mm,
            allowed_mm=list(conflict.allowed_mm) if conflict.allowed_mm else None,
        ),
        "excess_mm": conflict.excess_mm,
        **present(
            section=conflict.section,
            whole_before_mm=conflict.whole_before_mm,
            since=conflict.since,
            remedies=[_remedy_fields(remedy) for remedy in conflict.remedies],
            decisions=[
                {
                    "remedy": d.remedy,
                    **present(
                        why=d.why,
                        date=d.date,
                        accepted_excess=d.accepted_excess,
                        accepted_at_mm=d.accepted_at_mm,
                    ),
                }
                for d in conflict.decisions
            ],
        ),
    }


def _says(says: Said | str) -> str | dict[str, Any]:
    if isinstance(says, str):
        return says
    also = [_says(each) for each in says.also]
    return {"what": says.what, **present(facts=dict(says.facts), also=also)}


def _remedy_fields(remedy: Remedy) -> dict[str, Any]:
    return {
        "name": remedy.name,
        **present(
            amount_mm=remedy.amount_mm,
            says=_says(remedy.says),
            kind=remedy.kind,
            version=remedy.version if remedy.version > 1 else None,
        ),
        **({"values": remedy.values} if remedy.values else {}),
        **present(
            effects=[asdict(each) for each in remedy.effects],
            leaves=[asdict(each) for each in remedy.leaves],
        ),
    }
