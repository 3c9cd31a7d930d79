"""Two drafts compared, in words and as a table."""

from collections.abc import Iterator

from rich.console import RenderableType

from trueup.cli.amounts import before_and_after, length
from trueup.cli.page import said
from trueup.cli.render.table import PlainTable
from trueup.geometry.comparing.comparison import Comparison, EdgeMove
from trueup.geometry.comparing.difference import DartDifference
from trueup.geometry.pieces.position import point_in_words
from trueup.geometry.tolerance import UNCHANGED
from trueup.geometry.units import Unit

_MARK = {Unit.MILLIMETRE: 0.1, Unit.CENTIMETRE: 1.0, Unit.INCH: 25.4 / 16}
"""The smallest amount a maker reads off a tape, mm."""


def comparison_lines(
    found: Comparison, old: str, new: str, unit: Unit, *, numbered: bool = False
) -> Iterator[RenderableType]:
    """Yield the edges that moved with how far, where and how long they were, and what else did.

    They are `numbered` as in the picture that stands beside them.
    """
    yield said(f"{old} -> {new}", "bold")
    yield said(f"Laid over each other: {found.by.words}.")
    if found.is_same:
        yield said("Nothing moved.")
        return
    if found.moves:
        rows = [
            (
                f"{count}. {move.name}" if numbered else move.name,
                distance(move.distance, unit),
                place(move, unit),
                before_and_after(move.before, move.after, unit),
            )
            for count, move in enumerate(found.moves, start=1)
        ]
        yield PlainTable(("edge", "moved", "most", "length"), rows, right=("moved",))
    yield from (said(each) for each in other_changes(found, old, new, unit))


def place(move: EdgeMove, unit: Unit) -> str:
    """Return where along an edge it moved most, measured from the nearer corner."""
    if move.along < UNCHANGED:
        return f"at {point_in_words(move.corner)}"
    return f"{length(move.along, unit)} from {point_in_words(move.corner)}"


def distance(mm: float, unit: Unit) -> str:
    """Return how far something moved: what is less than a mark on the tape is not called nought."""
    least = _MARK[unit]
    return length(mm, unit) if mm >= least / 2 else f"under {length(least, unit)}"


def move_line(move: EdgeMove, unit: Unit) -> str:
    """Return one line for an edge that moved."""
    both = before_and_after(move.before, move.after, unit)
    return f"{move.name} moved {distance(move.distance, unit)}, most {place(move, unit)}; {both}"


def other_changes(found: Comparison, old: str, new: str, unit: Unit) -> Iterator[str]:
    """Yield what changed besides: darts, and edges that only one of the two has."""
    for dart in found.darts:
        yield _dart(dart, old, new, unit)
    for names, where in ((found.only_old, old), (found.only_new, new)):
        if names:
            yield f"Only in {where}: {', '.join(names)}."


def _dart(dart: DartDifference, old: str, new: str, unit: Unit) -> str:
    if dart.moved is None:
        where, intake = (new, dart.after) if dart.before is None else (old, dart.before)
        return f"The dart {dart.dart} is only in {where}, {length(intake, unit)} wide."
    both = before_and_after(dart.before, dart.after, unit)
    return f"The dart {dart.dart} moved {distance(dart.moved, unit)}; its width {both}."
