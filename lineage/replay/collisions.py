"""Find what no longer holds at a node after a step, and whether it arose there. Pure."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from trueup.geometry.measuring.finding import Finding
from trueup.geometry.pieces.side import unsided
from trueup.geometry.said import Said, said
from trueup.geometry.tolerance import UNCHANGED, WORSE, WORSE_DEGREES
from trueup.lineage.evaluation.summary import Problem, Summary
from trueup.lineage.files.records import ConflictKind, ConflictRecord, ConflictState

Key = tuple[str, str, str]

UNSTATED = "unstated"
"""The code of a piece, or of a line, of which no seam is stated: it cannot be checked."""


@dataclass(frozen=True)
class Collision:
    """Something that does not hold at a node: where, how far outside, and what it says."""

    kind: ConflictKind
    code: str
    piece: str
    edge: str
    says: Said
    measured_mm: float | None
    allowed_mm: tuple[float, float] | None
    excess: float
    change: str = ""
    largest_mm: float | None = None
    section: str = ""
    own_name: str = ""
    """That of the piece, where it is called otherwise."""

    @property
    def key(self) -> Key:
        """Return what stays the same when the same thing is found again, whatever it is called."""
        return self.code, self.own_name or self.piece, self.edge

    @property
    def slack(self) -> float:
        """Return by how much its excess may grow before it counts as worse."""
        return WORSE_DEGREES if "kink" in self.code else WORSE

    @property
    def side(self) -> int:
        """Return -1 when it lies below what is allowed, 1 above it, 0 where that says nothing."""
        return _side(self.measured_mm, self.allowed_mm)

    def is_worse(self, excess: float, side: int) -> bool:
        """Return whether it is worse than it was: farther outside, or out on the other side."""
        return self.excess > excess + self.slack or side * self.side < 0

    def is_worse_than(self, record: ConflictRecord) -> bool:
        """Return whether it is worse than a conflict says."""
        return self.is_worse(record.excess_mm, _side(record.after_mm, record.allowed_mm))


def _side(measured: float | None, allowed: tuple[float, float] | None) -> int:
    if measured is None or allowed is None:
        return 0
    return (measured > allowed[1]) - (measured < allowed[0])


def collisions(summary: Summary) -> dict[Key, Collision]:
    """Return everything that does not hold at an evaluated node, by key."""
    called = summary.called
    known = (_by_own_name(_from_problem(problem), called) for problem in summary.problems)
    return {
        **of_findings(summary.findings, called),
        **{collision.key: collision for collision in known},
        **of_unstated(unsewn(summary), called),
    }


def of_findings(findings: Iterable[Finding], called: Mapping[str, str]) -> dict[Key, Collision]:
    """Return what of some findings has to be settled, by key; `called` are its pieces."""
    known = (_by_own_name(_from_finding(f), called) for f in findings if f.severity != "note")
    return {collision.key: collision for collision in known}


def _by_own_name(collision: Collision, called: Mapping[str, str]) -> Collision:
    own = next((own for own, name in called.items() if name == collision.piece), "")
    return replace(collision, own_name=own) if own else collision


def unsewn(summary: Summary) -> tuple[str, ...]:
    """Return the pieces, and the lines of others (`piece.edge`), of which no seam is stated.

    Nothing says what they are sewn to: so they cannot be called true.
    """
    sewn = {run.partition(".")[0] for seam in summary.seams.values() for run in seam.runs}
    sewn.update(summary.laid_on)
    return (*(piece for piece in summary.pieces if piece not in sewn), *summary.unsewn)


def of_unstated(names: Iterable[str], called: Mapping[str, str]) -> dict[Key, Collision]:
    """Return that no seam is stated for some pieces, and lines (`piece.edge`), by key."""
    known = (_by_own_name(_of_unstated(name), called) for name in names)
    return {collision.key: collision for collision in known}


def _of_unstated(name: str) -> Collision:
    piece, _, edge = name.partition(".")
    says = said("unstated-line", line=name) if edge else said("unstated", piece=piece)
    return Collision(ConflictKind.SHAPE, UNSTATED, piece, edge, says, None, None, 0.0)


def _from_finding(finding: Finding) -> Collision:
    return Collision(
        ConflictKind.SEAM if finding.code == "seam" else ConflictKind.SHAPE,
        finding.code,
        finding.piece,
        finding.edge,
        finding.says,
        finding.measured,
        (finding.low, finding.high),
        finding.excess,
        section=finding.section,
    )


def _from_problem(problem: Problem) -> Collision:
    return Collision(
        ConflictKind(problem.code),
        f"{problem.code}:{problem.step}",
        problem.piece,
        problem.edge,
        problem.says,
        None,
        None,
        0.0,
        problem.step,
        problem.largest_mm,
    )


def found_at(found: Mapping[Key, Collision], key: Key) -> Collision | None:
    """Return what was found at a key; what was found on both sides alike is on each."""
    code, piece, edge = key
    return found.get(key) or found.get((code, unsided(piece), edge))


def new_or_worse(before: Summary | None, after: Summary) -> tuple[Collision, ...]:
    """Return what does not hold after and held before, or holds less well than before.

    That no seam is stated is no news: only `check`, and who rests on it, tell of that.
    """
    old = collisions(before) if before else {}
    return tuple(
        collision
        for key, collision in collisions(after).items()
        if collision.code != UNSTATED and _is_worse(collision, found_at(old, key))
    )


def _is_worse(collision: Collision, old: Collision | None) -> bool:
    return old is None or collision.is_worse(old.excess, old.side)


def arose_here(collision: Collision, node: Summary, parents: Iterable[Summary]) -> bool:
    """Return whether a node's own chain, or its joining of parents, is part of a collision.

    It is inherited when a parent has the same collision and the node took over everything that
    collides as it was: both seam lines at their lengths and the same allowed ease, or the edge at
    its shape. What nothing is said of stays so however it is drawn.
    """
    if collision.kind in (ConflictKind.MISSING, ConflictKind.IMPOSSIBLE):
        return True
    return not any(
        found_at(collisions(parent), collision.key) and _taken_over(collision, node, parent)
        for parent in parents
    )


def _taken_over(collision: Collision, node: Summary, parent: Summary) -> bool:
    place = f"{collision.piece}.{collision.edge}"
    if collision.code == UNSTATED:
        return True
    if collision.kind is not ConflictKind.SEAM:
        return place not in node.shaped
    for name, seam in node.seams.items():
        theirs = parent.seams.get(name) or parent.seams.get(unsided(name))
        if seam.place == (collision.piece, collision.edge) and theirs:
            return len(seam.sections) == len(theirs.sections) and all(
                abs(mine - other) <= UNCHANGED
                for mine, other in zip(seam.numbers, theirs.numbers, strict=True)
            )
    return False


def still_accepted(record: ConflictRecord, collision: Collision) -> bool:
    """Return whether an acceptance still covers a collision: it has not become worse."""
    return record.state is ConflictState.ACCEPTED and not collision.is_worse_than(record)


def own_change(collision: Collision, node: Summary, order: Sequence[str]) -> str:
    """Return the own step that is part of a collision: the last in the chain that shaped its edges.

    Empty when none of the chain did.
    """
    if collision.change:
        return collision.change
    places = {f"{collision.piece}.{collision.edge}"}
    for seam in node.seams.values():
        if seam.place == (collision.piece, collision.edge) and collision.kind is ConflictKind.SEAM:
            places.update(seam.runs)
    steps = [node.shaped[place] for place in places if place in node.shaped]
    # What a graft takes over beneath a joining of pieces stands before its chain.
    places_in_chain = {step: at for at, step in enumerate(order)}
    return max(steps, key=lambda step: places_in_chain.get(step, -1), default="")
