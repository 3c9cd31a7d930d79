"""Sizes nested on one sheet: each piece of every size over the others, told apart thrice.

By the dashes of its lines, by their ink, and by its name along them: no one of the three is needed.
The inks are few and dark, so that a printer without colour shows every line. Lengths in mm, y down.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from trueup.cli.sheet.facts import Facts
from trueup.cli.sheet.ink.drawn import Drawing, InkPen, InkWords, SizePen, Stroke
from trueup.cli.sheet.laying.layout import Laid, OneSize, ToPrint
from trueup.cli.sheet.laying.tiles import Tile
from trueup.cli.sheet.naming.seam_letters import LetteredSeam, lettered
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.cloth.turned_hem import hems_of
from trueup.geometry.comparing.alignment import BY_CENTRE, laid_under
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pleats.laid_open import as_cut
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.replay.standing import waiting_at
from trueup.lineage.sizes.run import SizeOf

_INKS = ((0.0, 0.0, 0.0), (0.10, 0.22, 0.42), (0.45, 0.20, 0.10))
_DASHES = (
    (),
    (9.0, 2.0),
    (4.0, 1.5),
    (9.0, 2.0, 1.5, 2.0),
    (1.5, 1.5),
    (14.0, 2.0, 4.0, 2.0),
    (6.0, 2.0, 1.5, 2.0, 1.5, 2.0),
    (3.0, 4.0),
)
_OF_ONE = (InkPen.GRAIN, InkPen.FOLD, InkPen.MEETS)
"""What is drawn of one size for all."""
_SHORT = (InkPen.NOTCH, InkPen.MARK, InkPen.LEVEL)
"""What is too short for dashes."""
_NAMES = 3
"""So often the name of a size stands along its line."""
_LETTERS = 2.6
_TRIED = 40


@dataclass(frozen=True)
class SizeLine:
    """A size as the cover tells of it: how its lines are drawn, its name and its body."""

    name: str
    pen: SizePen
    body: str


def size_pen(place: int, of: InkPen = InkPen.CUT) -> SizePen:
    """Return the pen of a size by its place in the run; no two of a run are drawn alike.

    >>> len({size_pen(place) for place in range(24)})
    24
    """
    dashes = () if of in _SHORT else _DASHES[place % len(_DASHES)]
    return SizePen(0.8 * of.width, dashes, _INKS[place % len(_INKS)])


def size_lines(run: Sequence[SizeOf]) -> tuple[SizeLine, ...]:
    """Return how each size of a run is drawn, and what its body measures."""
    return tuple(
        SizeLine(each.size, size_pen(place), _body(each)) for place, each in enumerate(run)
    )


def _body(size: SizeOf) -> str:
    body = size.block.draft.body if size.block.draft else {}
    return ", ".join(f"{name} {amount}" for name, amount in body.items())


def nested(
    evaluator: Evaluator, run: Sequence[SizeOf]
) -> tuple[tuple[ToPrint, ...], tuple[LetteredSeam, ...]]:
    """Return each piece of the largest size that has it with the same of all sizes laid on it.

    Beside them the seams of the smallest size, inside whose lines the letters stand; no letter is
    the name of a size.
    """
    drafts = [as_cut(evaluator.draft(each.node.name)) for each in run]
    hems = [hems_of(draft) for draft in drafts]
    found: dict[str, ToPrint] = {}
    for base in reversed(drafts):
        laid = [laid_under(draft, base, BY_CENTRE) for draft in drafts]
        for piece in base.pieces:
            if piece.name not in found:
                turned = next(each[piece.name] for each in hems if piece.name in each)
                sizes = tuple(_each(piece.name, run, laid))
                found[piece.name] = ToPrint(piece, nested=sizes, hems=turned)
    seams = lettered(drafts[0], not_as=[each.size.upper() for each in run])
    return tuple(found.values()), seams


def _each(name: str, run: Sequence[SizeOf], laid: Sequence[Draft]) -> Iterator[OneSize]:
    for place, (size, draft) in enumerate(zip(run, laid, strict=True)):
        if draft.has_piece(name):
            yield OneSize(place, size.size, draft.piece(name))


def facts_of_run(facts: Facts, evaluator: Evaluator, run: Sequence[SizeOf]) -> Facts:
    """Return what a sheet says of a pattern, said of its sizes."""
    waiting = {c.id: c for each in run for c in waiting_at(evaluator, each.node.name)}
    kind = f"sizes {run[0].size} to {run[-1].size}" if len(run) > 1 else f"size {run[0].size}"
    return replace(facts, kind=kind, measures={}, conflicts=tuple(waiting.values()), fitted=())


def in_size_pens(strokes: Collection[Stroke], place: int, *, is_base: bool) -> Iterator[Stroke]:
    """Yield the lines of one size of a piece in its pen; grain and fold of one size alone."""
    for stroke in strokes:
        if not isinstance(stroke.pen, InkPen) or stroke.pen in _OF_ONE:
            if is_base:
                yield stroke
        else:
            yield Stroke(stroke.points, size_pen(place, stroke.pen))


def size_names(laid: Laid, tiles: Sequence[Tile]) -> Drawing:
    """Return the names of the sizes along their lines, where a sheet shows them whole."""
    words: list[InkWords] = []
    for each in laid.nested:
        ring = cutting_line(each.piece).exterior.coords
        line = [laid.motion(complex(x, y)) for x, y in ring]
        words += _along(line, each.size, (each.place + 0.5) / len(laid.nested), tiles)
    return Drawing((), tuple(words))


def _along(
    line: Sequence[Point], name: str, first: float, tiles: Sequence[Tile]
) -> Iterator[InkWords]:
    way = shapely.LineString([(p.real, p.imag) for p in line])
    apart = [first + k / _NAMES for k in range(_NAMES)]
    spare = [first + k / _TRIED for k in range(_TRIED)]
    standing = 0
    for share in np.mod([*apart, *spare], 1.0):
        at = way.interpolate(float(share), normalized=True)
        words = InkWords(name, complex(at.x + 0.5, at.y - 0.5), _LETTERS, bold=True)
        if standing < _NAMES and any(tile.window.holds(words.corners) for tile in tiles):
            standing += 1
            yield words
