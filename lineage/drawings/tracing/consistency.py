"""Whether a draft that was read holds together: what it names is there, no name stands twice."""

from collections.abc import Sequence

from trueup.geometry.errors import NoSuchName
from trueup.geometry.marking.places import frame_of
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.side import Side
from trueup.geometry.pleats.laid_open import require_openable
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.reading import is_name


def require_consistent(draft: Draft, place: str) -> None:
    """Refuse names that are no plain words or stand twice, and what names a thing not there.

    Raises BadRecord, NoSuchName.
    """
    _require_cuts(draft, place)
    named: list[Sequence[str]] = [
        [piece.name for piece in draft.told_of],
        [seam.name for seam in draft.seams],
        [join.name for join in draft.joins],
    ]
    named += [[part.name for part in seam.sections] for seam in draft.seams]
    for piece in draft.told_of:
        named.append([corner for edge in piece.edges for corner in (edge.starts_at,)])
        takes_in = [*piece.dart_names, *(pleat.name for pleat in piece.pleats)]
        named += [piece.edge_names, takes_in, [level.name for level in piece.levels]]
        named.append([mark.name for mark in piece.marks])
        _require_marks(piece)
        _require_pleats(piece, place)
    for names in named:
        for name in names:
            if not is_name(name):
                raise BadRecord(place, f'the name "{name}" is no plain word')
        if len(set(names)) < len(names):
            raise BadRecord(place, f'the name "{max(names, key=list(names).count)}" stands twice')
    for seam in draft.seams:
        bands = (seam.allowed, *(section.allowed for section in seam.sections))
        if not (seam.side and seam.mate) or any(map(_is_none, bands)):
            raise BadRecord(place, f"the seam {seam.name} has a side or a range that is none")
        for run in seam.runs:
            draft.edge(run.piece, run.edge)
    for join in draft.joins:
        for piece_name, edge, corner in (join.first, join.second):
            found = draft.edge(piece_name, edge)
            if corner not in (found.starts_at, found.ends_at):
                raise BadRecord(place, f"the join {join.name} names no corner of {edge}")


def _is_none(band: Band) -> bool:
    return band.low > band.high or band.tolerance < 0


def _require_marks(piece: Piece) -> None:
    for notch in piece.notches:
        notch.at.along(piece.edge(notch.edge))
    for name in (piece.fold, *(level.along for level in piece.levels)):
        if name is not None:
            piece.edge(name)
    for name in (*(edge for edge, _ in piece.allowances), *piece.free):
        piece.edge(name)
    for corner in piece.corners:
        edge = piece.edge(corner.edge)
        if corner.corner not in (edge.starts_at, edge.ends_at):
            raise NoSuchName("corner", corner.corner, edge.name, (edge.starts_at, edge.ends_at))
    for mark in piece.marks:
        frame_of(piece, mark.place)


def _require_pleats(piece: Piece, place: str) -> None:
    """Refuse pleats and vents of no size, or without room on the piece; raises GeometryError."""
    for pleat in piece.pleats:
        if not (pleat.depth > 0 and pleat.stitched >= 0):
            raise BadRecord(place, f"the pleat {pleat.name} of {piece.name} is of no depth")
    for vent in piece.vents:
        if not (vent.width > 0 and vent.slope >= 0 and vent.allowance >= 0):
            raise BadRecord(place, f"the vent {vent.name} of {piece.name} is of no width")
    require_openable(piece)


def _require_cuts(draft: Draft, place: str) -> None:
    """Refuse a cut whose parts are not those of its whole: each one of a piece or a later cut."""
    standing = {piece.name for piece in draft.pieces}
    taken: set[tuple[str, Side]] = set()
    for cut in reversed(draft.cuts):
        # A part that is alike on both sides may be one of two wholes that are not.
        parts = {(part, side) for part in cut.parts for side in Side if cut.worn in (None, side)}
        are_there = len({*cut.parts}) == 2 and standing.issuperset(cut.parts)
        if not are_there or parts & taken or cut.whole.name in standing:
            raise BadRecord(place, f"{cut.whole.name} is not what its parts were cut from")
        taken |= parts
        standing.add(cut.whole.name)
        lines = (cut, *((cut.second,) if cut.second else ()))
        for part in cut.parts:
            for line in lines:
                draft.piece(part).edge(line.line)
        for end in (end for line in lines for end in (line.begins, line.ends)):
            there = cut.whole.edge_of_dart(end.dart).name
            if there != end.edge or cut.begins.edge == cut.ends.edge:
                raise BadRecord(place, f"the line {cut.line} does not meet {end.edge}")
        for edge in cut.whole.edge_names:
            having = [
                name
                for part in cut.parts
                for name in draft.piece(part).edge_names
                if cut.edge_of_whole(name) == edge
            ]
            if len(having) != _in_parts(cut, edge):
                raise BadRecord(place, f"{edge} of {cut.whole.name} is not in its parts")


def _in_parts(cut: Cut, edge: str) -> int:
    """Return how many edges of its parts are some of an edge of a whole."""
    if edge not in (cut.begins.edge, cut.ends.edge):
        return 0 if cut.second else 1
    return 3 if cut.second and edge == cut.begins.edge else 2
