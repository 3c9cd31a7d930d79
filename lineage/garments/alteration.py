"""What of a correction can still be done on a garment that is cut.

The cloth is the outline the garment was cut by, or as it was altered since; what was sewn is its
pattern as of that version; what is wanted is the pattern now, or as a correction not yet made
would leave it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from shapely.geometry import Polygon

from trueup.geometry.calling.own_names import called_as, in_names, own_name
from trueup.geometry.cloth.cap_answer import cap_answer, most_hollowing
from trueup.geometry.cloth.cut_cloth import LEAST, ClothAnswer, EdgeAnswer, Possible, compare_cloth
from trueup.geometry.cloth.sewing_order import sewing_order
from trueup.geometry.cloth.uneven import uneven_seams
from trueup.geometry.comparing.laying import laid
from trueup.geometry.cuts.joined.joining import apart_as
from trueup.geometry.cuts.sewing import together_as
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.bodice import bodice_names
from trueup.geometry.pieces.dart import InnerDart, Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.side import Side, unsided
from trueup.geometry.pleats.laid_open import laid_open
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE
from trueup.geometry.sides.parting import parted_as, parted_names, worn_on
from trueup.geometry.tolerance import UNCHANGED
from trueup.lineage.drawings.outline import read_outline
from trueup.lineage.errors import BadRecord
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.garment_errors import CannotAlter
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.records import ConflictRecord
from trueup.lineage.files.records import replace as record_with
from trueup.lineage.garments.answers import Alteration
from trueup.lineage.garments.both_sides import garment_on, of_both_sides, on_side
from trueup.lineage.garments.since import Fate, since
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.replay.standing import waiting_at


@dataclass(frozen=True)
class Asked:
    """What is asked of a garment: its cloth by piece, as sewn by `old`, to be as `new` is.

    `least` is the narrowest allowance (mm) a seam may be left with, `as_cut` what it was cut from.
    """

    garment: GarmentRecord
    cloth: Mapping[str, Polygon]
    old: Draft
    new: Draft
    least: float = LEAST
    as_cut: Draft | None = None
    waiting: tuple[ConflictRecord, ...] = ()

    def answer(self) -> Alteration:
        """Return what can be done; raises BadRecord where cloth of a piece is not drawn."""
        found = alteration(
            self.garment, self.cloth, self.old, self.new, self.least, as_cut=self.as_cut
        )
        return replace(found, waiting=self.waiting)

    def lacked(self, piece: str) -> dict[str, float]:
        """Return what cloth lacked on the edges of a piece when it was altered last, mm."""
        return lacked(self.garment, piece)


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
        raise CannotAlter(name, str(became.says).rstrip("."))
    now = after or wardrobe.evaluator
    today = now.draft(garment.pattern)
    cut = sewn = wardrobe.evaluator_at(garment.cut_from).draft(garment.pattern)
    as_cut = old = called_as(cut, today)
    cloth = cloth_of(wardrobe, garment)
    if garment.altered_to:
        sewn = wardrobe.evaluator_at(garment.altered_to).draft(garment.pattern)
        old = called_as(sewn, today)
        # A piece the pattern got since it was cut had no cloth then, and has none now.
        old = old.only([name for name in old.piece_names if as_cut.has_piece(name)])
    if cut.called != today.called or sewn.called != today.called:
        # Its cloth is told of by what its pieces were called then.
        garment = _called_as(garment, cut, sewn, today)
        cloth = {_as_called(name, sewn, today): outline for name, outline in cloth.items()}
    # What was cut apart since lies there whole, what was joined since in two.
    new = parted_as(together_as(apart_as(today, old), old), old)
    old, as_cut = parted_as(old, new), parted_as(as_cut, new)
    # What was cut for both sides alike is the cloth of each.
    cloth = on_side(cloth, old.piece_names, None)
    waiting = waiting_at(now, garment.pattern)
    return Asked(garment, cloth, old, new, least, as_cut, waiting)


def _as_called(name: str, then: Draft, now: Draft) -> str:
    """Return a piece, or a place on one, as a draft calls it now that called it otherwise then."""
    return in_names(own_name(then, name), now.called_names)


def _called_as(garment: GarmentRecord, cut: Draft, sewn: Draft, now: Draft) -> GarmentRecord:
    """Return a garment with its pieces called as they are now."""
    lacking = {_as_called(place, sewn, now): mm for place, mm in garment.lacking.items()}
    stitched = tuple(_as_called(place, cut, now) for place in garment.stitched_down)
    return record_with(garment, lacking=lacking, stitched_down=stitched)


def cloth_of(wardrobe: OpenWardrobe, garment: GarmentRecord) -> dict[str, Polygon]:
    """Return the cloth of each piece as it is now; raises NoSuchFile, BadRecord."""
    path = garment.outline_paths[-1]
    return read_outline(wardrobe.file(path), path)


def lacked(garment: GarmentRecord, piece: str) -> dict[str, float]:
    """Return what cloth lacked on the edges of a piece when it was altered last, mm by edge."""
    places = ((place.partition("."), mm) for place, mm in garment.lacking.items())
    return {edge: mm for (of, _, edge), mm in places if of in (piece, unsided(piece))}


def alteration(
    garment: GarmentRecord,
    cloth: Mapping[str, Polygon],
    old: Draft,
    new: Draft,
    least: float = LEAST,
    *,
    as_cut: Draft | None = None,
) -> Alteration:
    """Return what can be done on cloth sewn as `old` (by piece) for the draft that is `new`.

    `as_cut` is what it was cut from, where it was altered since. Raises BadRecord where the drawing
    of the garment lacks a piece that was cut.
    """
    if apart := parted_names(old, new):

        def on(side: Side) -> Alteration:
            sewn, cut = worn_on(old, side), worn_on(as_cut, side) if as_cut else None
            there = on_side(cloth, sewn.piece_names, side)
            of_side = garment_on(garment, side)
            return alteration(of_side, there, sewn, worn_on(new, side), least, as_cut=cut)

        return of_both_sides(on, apart)
    for piece in old.piece_names:
        if piece not in cloth:
            reason = f"it holds no outline of {piece}, which was cut"
            raise BadRecord(garment.outline_paths[-1], reason)
    first = as_cut or old
    both = [name for name in new.piece_names if old.has_piece(name) and name in cloth]
    answers = {
        name: compare_cloth(
            cloth[name],
            laid_open(old.piece(name)),
            laid_open(new.piece(name)),
            garment.stitched_down,
            least,
            as_cut=laid_open(first.piece(name)),
            lacked=lacked(garment, name),
        )
        for name in both
    }
    # A cap that could not be cut larger is still as it was cut.
    cap = cap_answer(first if "cap" in lacked(garment, SLEEVE) else old, new)
    moved = [*_moved_edges(answers.values()), *_moved_darts(old, new, answers)]
    released = [
        dart for dart in old.dart_names if dart not in new.dart_names and dart.split(".")[0] in both
    ]
    return Alteration(
        garment,
        tuple(answers.values()),
        cap,
        {n: most_hollowing(old, n, cap.room_on(n)) for n in bodice_names(old)} if cap else None,
        uneven_seams(new, answers),
        sewing_order(new.only(both), moved, released),
        tuple(name for name in new.piece_names if name not in both),
        tuple(name for name in first.piece_names if not new.has_piece(name)),
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
        before = laid_open(old.piece(name))
        after = laid(laid_open(new.piece(name)), before)
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
