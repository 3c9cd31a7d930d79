"""What the lines of a drawing seem to be, in tables for the maker to correct."""

from collections.abc import Iterator

from trueup.cli.amounts import length
from trueup.cli.render.table import PlainTable
from trueup.cli.wording.pieces_seen import called_by, to_be_said, turn
from trueup.geometry.units import Unit
from trueup.lineage.drawings.proposing.drawing_file import LookedAt
from trueup.lineage.drawings.seen.found import Found, Inner, Notched
from trueup.lineage.drawings.stating.stated import Stated


def lines_table(looked: LookedAt, unit: Unit) -> PlainTable:
    """Return one row a line: its number, what it is taken for, its length, what it looks like."""
    says = line_names(looked.stated)
    rows = []
    for piece in looked.found.pieces:
        for line in (*piece.ring, *piece.inner):
            name = says.get(line.number, "-")
            rows.append((str(line.number), name, length(line.chain.length, unit), _looks(line)))
    return PlainTable(("line", "taken for", "length", "looks like"), rows, right=("line", "length"))


def line_names(stated: Stated) -> dict[int, str]:
    """Return what each line is taken for, by its number."""
    return dict(_named(stated))


def _named(stated: Stated) -> Iterator[tuple[int, str]]:
    for piece in stated.pieces:
        for edge, lines in piece.edges.items():
            fold = " (fold)" if edge == piece.fold else ""
            yield from ((line, f"{piece.name}.{edge}{fold}") for line in lines)
        for dart, line in piece.darts.items():
            yield line, f"{piece.name}.dart.{dart}"
        for notch, line in piece.notches.items():
            yield line, f"{piece.name}.notch.{notch}"
        for hole, line in piece.holes.items():
            yield line, f"{piece.name}.hole.{hole}"
        for word, line in piece.lines.items():
            yield line, f"{piece.name}.line.{word}"
        for level, where in piece.levels.items():
            if where.startswith("line "):
                yield int(where.split()[1]), f"{piece.name}.level.{level}"
        if isinstance(piece.grain, int):
            yield piece.grain, f"{piece.name}.grainline"


def _looks(line: object) -> str:
    if isinstance(line, Notched):
        return "dart"
    return line.looks.value if isinstance(line, Inner) else "edge"


def seams_table(looked: LookedAt, unit: Unit) -> PlainTable:
    """Return one row a seam: how long its two sides are, and how much longer the first may be."""
    lengths = edge_lengths(looked.found, looked.stated)
    rows = []
    for seam in looked.stated.seams:
        sides = [sum(lengths.get(edge, 0.0) for edge in each) for each in (seam.side, seam.mate)]
        allowed = "even"
        if seam.high or seam.low:
            allowed = f"{length(seam.low, unit)} to {length(seam.high, unit)}"
        rows.append(
            (
                seam.name,
                length(sides[0], unit),
                length(sides[1], unit),
                allowed,
                f"{' + '.join(seam.side)} to {' + '.join(seam.mate)}",
            )
        )
    return PlainTable(
        ("seam", "side", "mate", "may be longer by", "of"), rows, right=("side", "mate")
    )


def edge_lengths(found: Found, stated: Stated) -> dict[str, float]:
    """Return how long each edge is as sewn, mm."""
    sides = {side.number: side.chain.length for piece in found.pieces for side in piece.sides}
    return {
        f"{piece.name}.{edge}": sum(sides.get(line, 0.0) for line in lines)
        for piece in stated.pieces
        for edge, lines in piece.edges.items()
    }


def pieces_table(looked: LookedAt) -> PlainTable:
    """Return one row a piece: what it looks like, how it was turned, by what it is called so."""
    rows = [
        (piece.name, form or "-", turn(degrees), called_by(by))
        for piece, form, degrees, by in zip(
            looked.stated.pieces, looked.forms, looked.turns, looked.named_by, strict=False
        )
    ]
    return PlainTable(("piece", "looks like", "turned", "called so by"), rows)


def other_lines(looked: LookedAt) -> list[str]:
    """Return what else is proposed or known, a sentence each."""
    says = [f"Size: {looked.found.size}."]
    for piece in looked.stated.pieces:
        levels = [f"{name} {where}" for name, where in piece.levels.items()]
        if levels:
            says.append(f"Levels of {piece.name}: {', '.join(levels)}.")
    return [*says, *to_be_said(looked), *looked.found.notes]
