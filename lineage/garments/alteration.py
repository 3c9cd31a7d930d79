"""What of a correction can still be done on a garment that is cut.

The cloth is the outline the garment was cut by; what was sewn is its pattern as of that version;
what is wanted is the pattern now, or as a correction not yet made would leave it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from shapely.geometry import Polygon

from trueup.geometry.cloth.cap_answer import CapAnswer, cap_answer, most_hollowing
from trueup.geometry.cloth.cut_cloth import LEAST, ClothAnswer, EdgeAnswer, Possible, compare_cloth
from trueup.geometry.cloth.sewing_order import SewingStep, sewing_order
from trueup.geometry.cloth.uneven import Uneven, uneven_seams
from trueup.geometry.comparing.laying import laid
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.bodice import bodice_names
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import InnerDart, Mouth, Piece
from trueup.geometry.tolerance import UNCHANGED
from trueup.lineage.drawings.outline import read_outline
from trueup.lineage.errors import BadRecord
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.garment_errors import CannotAlter
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.garments.since import Fate, since
from trueup.lineage.opened import OpenWardrobe


@dataclass(frozen=True)
class Alteration:
    """What can be done on a garment's cloth, lengths in mm.

    `pieces` are the answers for the pieces that were cut and are still wanted; `not_cut` are
    wanted now and there is no cloth for them, `not_wanted` were cut. `hollowing` says how much each
    armhole could be hollowed at most, by itself and from as it was, with the cap as it is.
    """

    garment: GarmentRecord
    pieces: tuple[ClothAnswer, ...]
    cap: CapAnswer | None = None
    hollowing: Mapping[str, float] | None = None
    uneven: tuple[Uneven, ...] = ()
    steps: tuple[SewingStep, ...] = ()
    not_cut: tuple[str, ...] = ()
    not_wanted: tuple[str, ...] = ()

    @property
    def stays(self) -> bool:
        """Return whether the garment is as its pattern wants it."""
        return not self.steps and all(piece.stays for piece in self.pieces)

    @property
    def possible(self) -> Possible:
        """Return what can be done on the whole: that of the worst piece."""
        order = (Possible.CAN, Possible.PARTLY, Possible.CANNOT)
        return max((piece.possible for piece in self.pieces), key=order.index, default=Possible.CAN)


@dataclass(frozen=True)
class Asked:
    """What is asked of a garment: its cloth by piece, as sewn by `old`, to be as `new` is.

    `least` is the narrowest allowance (mm) a seam may be left with.
    """

    garment: GarmentRecord
    cloth: Mapping[str, Polygon]
    old: Draft
    new: Draft
    least: float = LEAST

    def answer(self) -> Alteration:
        """Return what can be done; raises BadRecord where cloth of a piece is not drawn."""
        return alteration(self.garment, self.cloth, self.old, self.new, self.least)


def asked_of(
    wardrobe: OpenWardrobe, name: str, least: float = LEAST, after: Evaluator | None = None
) -> Asked:
    """Return what a garment's pattern asks of its cloth as it is now, or as `after` has it.

    Raises NoSuchGarment, CannotAlter for a pattern that is gone, NoSuchFile or BadRecord for its
    drawing, Damaged for a pattern that cannot be read.
    """
    garment = wardrobe.state.garment(name)
    became = since(wardrobe, garment)
    if became.damage is not None:
        raise became.damage
    if became.fate in (Fate.DELETED, Fate.UNREADABLE):
        raise CannotAlter(name, became.says.rstrip("."))
    cloth = cloth_of(wardrobe, garment)
    old = wardrobe.evaluator_at(garment.cut_from).draft(garment.pattern)
    new = (after or wardrobe.evaluator).draft(garment.pattern)
    return Asked(garment, cloth, old, new, least)


def cloth_of(wardrobe: OpenWardrobe, garment: GarmentRecord) -> dict[str, Polygon]:
    """Return the cloth of each piece as it was cut; raises NoSuchFile, BadRecord."""
    return read_outline(wardrobe.file(garment.outline_path), garment.outline_path)


def alteration(
    garment: GarmentRecord,
    cloth: Mapping[str, Polygon],
    old: Draft,
    new: Draft,
    least: float = LEAST,
) -> Alteration:
    """Return what can be done on cloth cut from `old` (by piece) for the draft that is `new`.

    Raises BadRecord where the drawing of the garment lacks a piece that was cut.
    """
    for piece in old.piece_names:
        if piece not in cloth:
            reason = f"it holds no outline of {piece}, which was cut"
            raise BadRecord(garment.outline_path, reason)
    both = [name for name in new.piece_names if old.has_piece(name)]
    answers = {
        name: compare_cloth(
            cloth[name], old.piece(name), new.piece(name), garment.stitched_down, least
        )
        for name in both
    }
    cap = cap_answer(old, new)
    moved = [*_moved_edges(answers.values()), *_moved_darts(old, new, answers)]
    released = [
        dart for dart in old.dart_names if dart not in new.dart_names and dart.split(".")[0] in both
    ]
    return Alteration(
        garment,
        tuple(answers.values()),
        cap,
        {n: most_hollowing(old, n, cap.room) for n in bodice_names(old)} if cap else None,
        uneven_seams(new, answers),
        sewing_order(new.only(both), moved, released),
        tuple(name for name in new.piece_names if name not in both),
        tuple(name for name in old.piece_names if name not in both),
    )


def _moved_edges(answers: Iterable[ClothAnswer]) -> list[str]:
    return [f"{each.piece}.{edge.edge}" for each in answers for edge in each.edges if _done(edge)]


def _done(edge: EdgeAnswer) -> bool:
    """Return whether anything is done on an edge: it moves, and it can at least in part."""
    return not edge.stays and edge.possible is not Possible.CANNOT


def _moved_darts(old: Draft, new: Draft, answers: Mapping[str, ClothAnswer]) -> list[str]:
    """Return the darts that are new or come to lie elsewhere on the cloth."""
    found = []
    for name, answer in answers.items():
        before, after = old.piece(name), laid(new.piece(name), old.piece(name))
        lay = _dart_points(before)
        for dart, points in _dart_points(after).items():
            same = dart in lay and all(
                abs(p - q) <= UNCHANGED for p, q in zip(points, lay[dart], strict=False)
            )
            if answer.slide or not same or len(points) != len(lay[dart]):
                found.append(f"{name}.{dart}")
    return found


def _dart_points(piece: Piece) -> dict[str, tuple[Point, ...]]:
    mouths: list[Mouth] = [mouth for edge in piece.edges for mouth in edge.mouths]
    inner: tuple[InnerDart, ...] = piece.inner_darts
    return {
        **{mouth.dart.name: (mouth.tip, mouth.first, mouth.second) for mouth in mouths},
        **{dart.name: (dart.upper, dart.lower, dart.left, dart.right) for dart in inner},
    }
