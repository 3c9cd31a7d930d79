"""The pleats of a piece that is cut in two: each lies in one of its parts."""

from dataclasses import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.piece import Piece, Pleat
from trueup.geometry.pieces.position import Position
from trueup.geometry.pleats.folding import require_room
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT


def with_pleats(whole: Piece, parts: tuple[Piece, Piece], line: str) -> tuple[Piece, Piece]:
    """Return the parts of a piece with the pleats of it that lie in them.

    Raises DoesNotFit for a pleat that the line runs through, or that has no room beside it.
    """
    taken: list[tuple[Pleat, ...]] = [
        tuple(p for pleat in whole.pleats if (p := _in_part(whole, part, pleat))) for part in parts
    ]
    there = {pleat.name for each in taken for pleat in each}
    for pleat in whole.pleats:
        if pleat.name not in there:
            raise DoesNotFit(said("runs-through-pleat", pleat=pleat.name), said("another-line"))
    pleated = [
        replace(part, pleats=own) if own else part for part, own in zip(parts, taken, strict=True)
    ]
    for part in pleated:
        try:
            require_room(part)
        except DoesNotFit as refusal:
            reason = said("no-room-beside-line", line=line, pleat=part.pleats[0].name)
            raise DoesNotFit(reason, said("another-line")) from refusal
    return pleated[0], pleated[1]


def _in_part(whole: Piece, part: Piece, pleat: Pleat) -> Pleat | None:
    """Return a pleat of the whole as a part has it, None where it does not lie in it."""
    at = _place(whole, part, pleat.edge, pleat.at)
    ends_at = _place(whole, part, pleat.ends, pleat.ends_at)
    if at is None or ends_at is None:
        return None
    return replace(pleat, at=at, ends_at=ends_at, towards=_towards(whole, part, pleat))


def _place(whole: Piece, part: Piece, name: str, at: Position) -> Position | None:
    """Return a place on an edge of the whole as told on the part, None where it is not on it."""
    if name not in part.edge_names:
        return None
    edge, own = whole.edge(name), part.edge(name)
    if own is edge:
        return at
    before = 0.0 if own.starts_at == edge.starts_at else edge.length - own.length
    along = at.along(edge) - before
    if not -SAME_POINT <= along <= own.length + SAME_POINT:
        return None
    along = min(max(along, 0.0), own.length)
    if at.corner in (own.starts_at, own.ends_at):
        return Position(
            at.corner, distance=along if at.corner == own.starts_at else own.length - along
        )
    return Position(own.starts_at, distance=along)


def _towards(whole: Piece, part: Piece, pleat: Pleat) -> str:
    edge, own = whole.edge(pleat.edge), part.edge(pleat.edge)
    if not pleat.towards:
        return ""
    return own.starts_at if pleat.towards == edge.starts_at else own.ends_at
