"""What of a draft nothing is said of: pieces without a seam, and lines that nothing is sewn to.

A line needs no seam where it lies on the fold, where it is sewn to its own mirror image on the
other half of the body, where it is finished by itself, as a neck or a hem is, and where the maker
said that it is free. A piece that is drafted to a line is sewn along that alone.
"""

from collections.abc import Iterator

from trueup.geometry.marking.laid_on import laid_on
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.side import Side, sided

ARMHOLE, CAP = "armhole", "cap"

_MIRRORED = frozenset(("centre", "crotch"))
"""Lines that meet the same line of the other half, which is as long whatever is done to it."""

_FINISHED = frozenset(("neck", "neckline", "waist", "hem", "wrist", "edge", "opening", "mouth"))
"""What the name of an edge ends with that is faced, bound, banded or turned in by itself: `hem`,
`overlap-hem`, `front-edge` (as the drafted blocks have it; common practice, no source)."""


def unsewn_pieces(draft: Draft) -> tuple[str, ...]:
    """Return the pieces for which no seam is stated, but for those that are laid on another."""
    sewn = {run.piece for seam in draft.seams for run in seam.runs} | {*laid_on(draft)}
    return tuple(name for name in draft.piece_names if name not in sewn)


def unsewn_lines(draft: Draft) -> tuple[str, ...]:
    """Return the lines (`piece.edge`) that need a seam and have none, of pieces that have one.

    A line of a piece that was cut or joined is told of by the piece it came from, one that is sewn
    on neither side of the body by the name of both.
    """
    sewn: dict[tuple[str, str], set[Side | None]] = {}
    for seam in draft.seams:
        for run in seam.runs:
            sewn.setdefault((run.piece, run.edge), set()).add(seam.worn)
    having, drafted = {piece for piece, _ in sewn}, {to.piece for to in draft.drafted}
    found = [
        sided(told, side)
        for piece in draft.pieces
        if piece.name in having and not drafted & {piece.name, piece.shared_name}
        for edge in piece.edge_names
        for side in _lacking(piece, sewn.get((piece.name, edge), set()))
        for told in _told(draft, piece, edge)
    ]
    return tuple(dict.fromkeys(_of_both(draft, name, found) for name in found))


def _lacking(piece: Piece, sewn: set[Side | None]) -> tuple[Side | None, ...]:
    """Return the sides on which a line of a piece is not sewn; None for all it is worn on."""
    if not sewn:
        return (None,)
    if piece.worn or None in sewn:
        return ()
    return tuple(side for side in Side if side not in sewn)


def is_finished(edge: str) -> bool:
    """Return whether an edge of this name needs no seam, whatever piece it belongs to.

    >>> is_finished("overlap-hem"), is_finished("side")
    (True, False)
    """
    return edge in _MIRRORED or edge.rpartition("-")[2] in _FINISHED


def _told(draft: Draft, piece: Piece, edge: str) -> Iterator[str]:
    """Yield an edge by the pieces it came from, where it needs a seam."""
    if edge == piece.fold or edge in piece.free or is_finished(edge):
        return
    if edge == ARMHOLE and not _has_cap(draft):
        return
    cut = next((cut for cut in draft.cuts if piece.name in cut.parts), None)
    if cut is not None and cut.edge_of_whole(edge) in cut.whole.edge_names:
        yield from _told(draft, cut.whole, cut.edge_of_whole(edge))
        return
    joined = next((each for each in draft.joined if each.name == piece.name), None)
    if joined is None:
        yield f"{piece.name}.{edge}"
        return
    for part, names in zip(joined.parts, joined.names, strict=True):
        own = {new: old for old, new in names}.get(edge, edge)
        if own in part.edge_names:
            yield from _told(draft, part, own)


def _has_cap(draft: Draft) -> bool:
    """Return whether there is a sleeve that an armhole could be sewn to."""
    return any(CAP in piece.edge_names for piece in draft.pieces)


def _of_both(draft: Draft, name: str, found: list[str]) -> str:
    """Return what is told of a line of one side by the name of both, where both are so."""
    piece, _, edge = name.partition(".")
    worn = next((p for p in draft.told_of if p.name == piece and p.worn), None)
    if worn is None:
        return name
    both = [p for p in draft.told_of if p.worn and p.shared_name == worn.shared_name]
    shared = f"{worn.shared_name}.{edge}"
    return shared if all(f"{each.name}.{edge}" in found for each in both) else name
