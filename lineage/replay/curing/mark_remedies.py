"""Remedies for a mark that lies beyond the end of its line: at the share it had of it, or gone."""

from trueup.geometry.changes import kind_named
from trueup.geometry.errors import GeometryError
from trueup.geometry.measuring.beyond_ends import BEYOND_END
from trueup.geometry.pieces.beyond.marks import BeyondEnd, marks_beyond
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.lineage.files.records import NodeRecord, Remedy
from trueup.lineage.replay.collisions import Collision
from trueup.lineage.replay.curing.cures import Trials
from trueup.lineage.replay.curing.names import SAME_SHARE

MOVE, DROP = "move-mark", "drop-mark"


def is_beyond_end(collision: Collision) -> bool:
    """Return whether a collision is of a mark that lies beyond the end of its line."""
    return collision.code.startswith(f"{BEYOND_END}:")


def for_mark(collision: Collision, trials: Trials) -> tuple[Remedy, ...]:
    """Return what can be done about a mark: moved to the share of its line it had, or dropped."""
    name = collision.code.removeprefix(f"{BEYOND_END}:")
    piece = trials.draft.piece(collision.piece)
    place = (name, collision.edge)
    found = next((m for m in marks_beyond(piece) if (m.name, m.edge) == place), None)
    if found is None:
        return ()
    mark = {"edge": f"{collision.piece}.{collision.edge}", "name": name}
    drop = Remedy(
        DROP, None, said("drop-mark", mark=f"{found.purpose} {name}"), DROP, mark,
        version=kind_named(DROP).version,
    )  # fmt: skip
    was = _length_when_on_it(collision, trials, found)
    if was is None:
        return (drop,)
    at = same_share(found.at, was)
    says = said("move-mark-to", mark=f"{found.purpose} {name}", at=str(at))
    values = {**mark, "at": str(at)}
    return (Remedy(MOVE, None, says, MOVE, values, version=kind_named(MOVE).version), drop)


def same_share(at: Position, length: float) -> Position:
    """Return a distance along a line of a length, mm, as the share of the line that it is."""
    return Position(at.corner, share=round((at.distance or 0.0) / length, 3))


def _length_when_on_it(collision: Collision, trials: Trials, mark: BeyondEnd) -> float | None:
    """Return how long the line was at the last step of the chain at which the mark was on it."""
    for stage in reversed(trials.evaluator.stages(trials.node.name)):
        length = _length(stage.draft, collision.piece, collision.edge)
        if length is not None and length >= mark.distance:
            return length
    return None


def _length(draft: Draft, piece: str, edge: str) -> float | None:
    there = draft.has_piece(piece) and edge in draft.piece(piece).edge_names
    return draft.edge(piece, edge).length if there else None


def for_place(
    collision: Collision, node: NodeRecord, trials: Trials, length_before: float | None
) -> tuple[Remedy, ...]:
    """Return the remedy of making a left-out step at the share its place had of its line.

    None where its line did not become too short for it.
    """
    step = node.step(collision.change)
    now = _length(trials.draft, collision.piece, collision.edge)
    if step is None or now is None or length_before is None or length_before <= now:
        return ()
    for name, written in step.values.items():
        at = _place(written)
        if at is not None and now < (at.distance or 0.0) <= length_before:
            shared = same_share(at, length_before)
            says = said("same-share", kind=step.kind, at=str(shared))
            return (Remedy(SAME_SHARE, None, says, step.kind, {name: str(shared)}),)
    return ()


def _place(written: object) -> Position | None:
    """Return the place on an edge that a value of a step names, if it names one."""
    try:
        return Position.parse(str(written))
    except GeometryError:
        return None
