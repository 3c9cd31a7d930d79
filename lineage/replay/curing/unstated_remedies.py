"""Remedies for a line of which nothing says what it is sewn to: a seam of the trade, or its mate.

What is proposed of a drawing is proposed here, too: the seams that pieces of the trade have, or a
line that is equal as sewn and is sewn to nothing either.
"""

from collections.abc import Iterator

from trueup.geometry.changes import kind_named
from trueup.geometry.measuring.unstated import unsewn_lines, unsewn_pieces
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said
from trueup.geometry.units import write_length
from trueup.lineage.drawings.proposing.proposing import MATES_WITHIN
from trueup.lineage.drawings.proposing.sewing import SEAMS
from trueup.lineage.drawings.stating.stated import StatedSeam
from trueup.lineage.files.records import Remedy

SEW, FREE = "sew-together", "leave-free"


def for_unstated(draft: Draft, piece: str, edge: str) -> tuple[Remedy, ...]:
    """Return what a piece, or one line of it, may be sewn to, and for a line that it is free."""
    seams = [*_of_the_trade(draft, piece, edge)] or [*_mates(draft, piece, edge)]
    remedies = [_sewing(seam) for seam in seams if not draft.has_seam(seam.name)]
    if edge:
        line = f"{piece}.{edge}"
        version = kind_named(FREE).version
        says = said("leave-line-free", line=line)
        remedies.append(Remedy(FREE, None, says, FREE, {"edge": line}, version=version))
    return tuple(remedies)


def _unsewn(draft: Draft) -> set[str]:
    """Return the lines that are sewn to nothing, those of a piece without a seam among them."""
    without = (draft.piece(name) for name in unsewn_pieces(draft))
    return {*unsewn_lines(draft), *(f"{p.name}.{edge}" for p in without for edge in p.edge_names)}


def _of_the_trade(draft: Draft, piece: str, edge: str) -> Iterator[StatedSeam]:
    unsewn = _unsewn(draft)
    for seam in SEAMS:
        lines = (*seam.side, *seam.mate)
        names = lines if edge else tuple(line.partition(".")[0] for line in lines)
        if (f"{piece}.{edge}" if edge else piece) in names and unsewn.issuperset(lines):
            yield seam


def _mates(draft: Draft, piece: str, edge: str) -> Iterator[StatedSeam]:
    """Yield a seam to the one other line that is as long, where there is just one."""
    if not edge:
        return
    line = f"{piece}.{edge}"
    length = draft.edge(piece, edge).length
    others = sorted(_unsewn(draft) - {line})
    equal = [
        other
        for other in others
        if abs(draft.edge(*other.split(".")).length - length) <= MATES_WITHIN
    ]
    if len(equal) == 1:
        yield StatedSeam(f"{edge}-seam", (line,), (equal[0],))


def _sewing(seam: StatedSeam) -> Remedy:
    line, to = " ".join(seam.side), " ".join(seam.mate)
    values = {"line": line, "to": to, "name": seam.name}
    if seam.low or seam.high:
        values |= {"low": write_length(seam.low), "high": write_length(seam.high)}
    told = (" and ".join(lines) for lines in (seam.side, seam.mate))
    says = said("sew-line-to", **dict(zip(("line", "to"), told, strict=True)), name=seam.name)
    version = kind_named(SEW).version
    return Remedy(f"sew-{seam.name}", None, says, SEW, values, version=version)
