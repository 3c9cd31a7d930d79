"""The cut list: how much cloth each piece is, and how long a cloth of a width has to be.

The length is that of a simple layout, in which pieces stand in rows; who lays them out with care
needs less; it is that of the shell, for what is labelled as cut from others is laid out on those.
Nothing is added for shrinkage, nap or the matching of a print. Lengths in mm, areas in mm².
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from trueup.cli.failures import Misused
from trueup.cli.sheet.facts import allowance_words
from trueup.cli.sheet.laying.extents import extent, moved
from trueup.cli.sheet.laying.layout import GAP, ToPrint
from trueup.cli.sheet.laying.packing import Box, TooWide, packed
from trueup.cli.wording.cutting import cut_count, cut_words, whole_count
from trueup.geometry.cloth.areas_moved import Cloth
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.side import Side
from trueup.geometry.pleats.laid_open import as_cut

_STRAIGHT = 0.5
"""A fold that leans by more than this, mm over its length, cannot lie on the fold of the cloth."""


@dataclass(frozen=True)
class CutPiece:
    """A piece as it is cut; `area` is that of one of them, opened out where it is on the fold."""

    name: str
    count: int
    says: str
    area: float
    allowances: str

    @property
    def whole_area(self) -> float:
        """Return the area of all of them."""
        return self.area * self.count


@dataclass(frozen=True)
class Estimate:
    """How long a cloth has to be; `layers` is 2 when it is folded lengthwise, 1 when it is open."""

    layers: int
    length: float

    @property
    def says(self) -> str:
        """Return how the cloth lies."""
        if self.layers == 2:
            return "folded lengthwise, two layers, each piece laid out once"
        return "open, one layer, pairs laid out twice, pieces on the fold opened out"


@dataclass(frozen=True)
class CutList:
    """The pieces of a pattern as they are cut, and the cloth they take, where a width was given.

    `differs` says whether left and right do.
    """

    pieces: tuple[CutPiece, ...]
    cloth_width: float | None = None
    estimates: tuple[Estimate, ...] = ()
    differs: bool = False

    @property
    def whole_area(self) -> float:
        """Return the area of everything that is cut."""
        return sum(piece.whole_area for piece in self.pieces)


def cut_list(draft: Draft, cloth_width: float | None = None) -> CutList:
    """Return the cut list of a draft; raises Misused for a cloth on which a piece has no room."""
    draft = as_cut(draft)
    pieces = tuple(_cut_piece(piece) for piece in draft.pieces)
    if cloth_width is None:
        return CutList(pieces)
    if cloth_width <= 0:
        raise Misused("A cloth of no width is none; give its width, as in --cloth-width 140cm.")
    ways = {1: _open(draft.pieces), 2: _folded(draft.pieces)}
    found: list[Estimate] = []
    refused: list[TooWide] = []
    for layers, boxes in ways.items():
        if boxes is None:
            continue
        try:
            packing = packed(boxes, cloth_width / layers, GAP, "the cloth")
        except TooWide as error:
            refused.append(error)
        else:
            found.append(Estimate(layers, packing.height))
    if not found:
        raise refused[0]
    estimates = tuple(sorted(found, key=lambda each: -each.layers))
    return CutList(pieces, cloth_width, estimates, draft.is_parted)


def _cut_piece(piece: Piece) -> CutPiece:
    area = float(cutting_line(piece).area) * (2 if piece.fold and not piece.worn else 1)
    return CutPiece(piece.name, whole_count(piece), cut_words(piece), area, allowance_words(piece))


def _open(pieces: Sequence[Piece]) -> list[Box]:
    """Return what lies on an open cloth: both of a pair, and fold pieces opened out."""
    boxes: list[Box] = []
    whole = {p.shared_name: p for p in pieces if p.fold and p.worn is Side.LEFT}
    for piece in pieces:
        box = ToPrint(piece).box
        half = whole.get(piece.shared_name)
        if half is not None and piece.worn is Side.RIGHT:
            other = ToPrint(half).box
            size = (box.width + other.width, max(box.height, other.height))
            boxes.append(Box(piece.shared_name, *size))
        elif half is piece:
            continue  # cut in one with the other
        elif piece.worn:
            boxes += _times(box, cut_count(piece))
        elif piece.fold:
            boxes += _times(Box(piece.name, *_opened(piece)), cut_count(piece))
        else:
            boxes += _times(box, cut_count(piece))
    return boxes


def _times(box: Box, count: int) -> list[Box]:
    """Return a box so many times, each by a name of its own."""
    if count == 1:
        return [box]
    return [replace(box, name=f"{box.name}, {n} of {count}") for n in range(1, count + 1)]


def _opened(piece: Piece) -> tuple[float, float]:
    fold = piece.edge(piece.fold or "")
    cloth = Cloth.unfolded(cutting_line(piece), (fold.start, fold.end)).lying
    left, top, right, bottom = moved(cloth, ToPrint(piece).grain_up).bounds
    return right - left, bottom - top


def _folded(pieces: Sequence[Piece]) -> list[Box] | None:
    """Return what lies on a folded cloth, fold pieces at its fold; None where that cannot be.

    A fold may lean; and what is not alike on both sides is cut in one layer.
    """
    if any(piece.worn for piece in pieces):
        return None
    boxes: list[Box] = []
    for piece in pieces:
        printed = ToPrint(piece)
        if piece.fold:
            fold = piece.edge(piece.fold)
            start, end = printed.grain_up(fold.start), printed.grain_up(fold.end)
            if abs((end - start).real) > _STRAIGHT:
                return None
            reach = [abs((printed.grain_up(p) - start).real) for p in extent(piece)]
            box = Box(piece.name, max(reach), printed.box.height, at_side=True)
            boxes += _times(box, cut_count(piece))
        else:
            boxes += _times(printed.box, math.ceil(cut_count(piece) / 2))
    return boxes
