"""What does not hold at a node as it now is, and the recorded conflict that speaks of it."""

from collections.abc import Iterator
from dataclasses import dataclass

from trueup.geometry.measuring.finding import Finding, Severity
from trueup.geometry.said import Said
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import ConflictRecord, ConflictState
from trueup.lineage.replay.collisions import (
    UNSTATED,
    Collision,
    arose_here,
    collisions,
    found_at,
    still_accepted,
)
from trueup.lineage.replay.naming import arising, id_of


@dataclass(frozen=True)
class Standing:
    """One thing that does not hold at a node.

    `id` is what it is decided by, at the node where it arose. `measured` and `allowed` are mm, or
    degrees where `in_degrees`; both None for a step that was left out. `conflict` is the record
    that speaks of it, at this node or the one it arose at; `accepted` whether the maker has
    accepted it as it is.
    """

    id: str
    arose_at: str
    code: str
    severity: Severity
    piece: str
    edge: str
    says: Said
    measured: float | None
    allowed: tuple[float, float] | None
    in_degrees: bool
    conflict: ConflictRecord | None
    accepted: bool

    @property
    def is_open(self) -> bool:
        """Return whether something has to be done about it."""
        return self.severity is not Severity.NOTE and not self.accepted

    @property
    def is_unchecked(self) -> bool:
        """Return whether it cannot be called true: no seam is stated for the piece or line."""
        return self.code == UNSTATED and self.is_open

    @property
    def place(self) -> str:
        """Return the piece, and its edge or dart where one is meant, in one name."""
        return ".".join(filter(None, (self.piece, self.edge)))


def standing(evaluator: Evaluator, name: str) -> tuple[Standing, ...]:
    """Return everything that does not hold at a node; raises NoSuchNode."""
    evaluator.state.node(name)
    summary = evaluator.summary(name)
    found = collisions(summary)
    own = summary.own_name
    problems = [found[f"{p.code}:{p.step}", own(p.piece), p.edge] for p in summary.problems]
    unstated = [each for each in found.values() if each.code == UNSTATED]
    return (
        *(_unmeasured(evaluator, name, p, p.kind.value, Severity.ERROR) for p in problems),
        *(_unmeasured(evaluator, name, each, UNSTATED, Severity.WARNING) for each in unstated),
        *(
            _of_finding(evaluator, name, each, found.get((each.code, own(each.piece), each.edge)))
            for each in summary.findings
        ),
    )


def inherited_conflicts(evaluator: Evaluator, name: str) -> tuple[ConflictRecord, ...]:
    """Return the open conflicts that arose above a node and that it shows as well."""
    records = (_record(evaluator, name, each) for each in _collisions(evaluator, name))
    found = {
        record.id: record
        for record in records
        if record and record.arose_at != name and record.state is ConflictState.OPEN
    }
    return tuple(found.values())


def waiting_at(evaluator: Evaluator, name: str) -> tuple[ConflictRecord, ...]:
    """Return the open conflicts of a node, then those it inherits: the order they are told in.

    Raises NoSuchNode.
    """
    return (*evaluator.state.node(name).open_conflicts, *inherited_conflicts(evaluator, name))


def _collisions(evaluator: Evaluator, name: str) -> Iterator[Collision]:
    yield from collisions(evaluator.summary(name)).values()


def _of_finding(
    evaluator: Evaluator, name: str, finding: Finding, collision: Collision | None
) -> Standing:
    record = _record(evaluator, name, collision) if collision else None
    return Standing(
        *(_known_as(evaluator, name, collision, record) if collision else ("", name)),
        finding.code,
        finding.severity,
        finding.piece,
        finding.edge,
        finding.says,
        finding.measured,
        (finding.low, finding.high),
        "kink" in finding.code,
        record,
        bool(record and collision and still_accepted(record, collision)),
    )


def unchecked(evaluator: Evaluator, name: str) -> tuple[str, ...]:
    """Return the pieces and lines of a node that could not be checked: no seam is stated for them.

    Those that were accepted so are left out.
    """
    found = (each for each in _collisions(evaluator, name) if each.code == UNSTATED)
    pairs = ((each, _record(evaluator, name, each)) for each in found)
    open_ = (c for c, record in pairs if not (record and still_accepted(record, c)))
    return tuple(".".join(filter(None, (c.piece, c.edge))) for c in open_)


def _unmeasured(
    evaluator: Evaluator, name: str, collision: Collision, code: str, severity: Severity
) -> Standing:
    record = _record(evaluator, name, collision)
    return Standing(
        *_known_as(evaluator, name, collision, record),
        code,
        severity,
        collision.piece,
        collision.edge,
        collision.says,
        None,
        None,
        False,
        record,
        bool(record and still_accepted(record, collision)),
    )


def _known_as(
    evaluator: Evaluator, name: str, collision: Collision, record: ConflictRecord | None
) -> tuple[str, str]:
    """Return the id of what does not hold, and the node where it arose."""
    if record is not None:
        return record.id, record.arose_at
    at, there = arising(evaluator, name, collision)
    return id_of(evaluator.state.node(at), there), at


def _record(evaluator: Evaluator, name: str, collision: Collision) -> ConflictRecord | None:
    """Return the open or accepted record of a collision, looked for where it arose."""
    node = evaluator.state.node(name)
    for record in node.conflicts:
        if record.key == collision.key and record.state is not ConflictState.SETTLED:
            return record
    if arose_here(collision, evaluator.summary(name), evaluator.parent_summaries(name)):
        return None
    for parent in node.parents:
        if parent.hold is None:
            theirs = found_at(collisions(evaluator.summary(parent.name)), collision.key)
            record_above = _record(evaluator, parent.name, theirs) if theirs else None
            if record_above:
                return record_above
    return None
