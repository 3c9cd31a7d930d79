"""Garments cut from random patterns: what is said of their cloth after a fitting, by sampling.

The cloth is the sampled outline of each piece with so much around it; where it is said to be
enough, the corrected line lies on it, and where it lacks, the line comes so near to the cut.
"""

from collections.abc import Iterator
from datetime import date
from random import Random

import numpy as np
import shapely
from shapely.affinity import affine_transform
from shapely.geometry import Polygon

from tests.judging.cap_halves import halves, outside
from tests.judging.random_wardrobes import case
from tests.judging.sampled import Points, piece_of, sampled
from tests.judging.trying import Fault, Trial
from tests.lineage.making import Bench, state
from trueup.geometry.cloth.cut_cloth import LEAST, ClothAnswer, Possible, Reason
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.lineage.errors import CannotStep
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.garments.alteration import alteration
from trueup.lineage.garments.answers import Alteration

OFF = 1.5
"""How far what is said may lie from what is sampled, mm: samples are a little apart."""


def tried_on_cloth(seed: int) -> Trial:
    """Return how many edges were answered for on cut cloth, and the answers that are not so."""
    dice, given = Random(seed + 0.125), case(seed)
    bench = Bench(state(*given.nodes))
    name = dice.choice(given.nodes).name
    old, around = bench.evaluator.draft(name), dice.uniform(8, 20)
    try:
        bench.correct("village", *given.fitting)
    except (CannotStep, GeometryError):
        return Trial(0, ())
    new = bench.evaluator.draft(name)
    cloth = {piece.name: polygon(piece).buffer(around) for piece in old.pieces}
    garment = GarmentRecord("g", name, "0" * 40, date(2025, 3, 1))
    found = alteration(garment, cloth, old, new)
    wrong = [*_cap(found, old, new)]
    for answer in found.pieces:
        before, after = piece_of(old, answer.piece), piece_of(new, answer.piece)
        if before and after and _lies_as_it_lay(before, after):
            wrong += _edges(answer, unfolded(cloth[answer.piece], before), before, after)
    faults = tuple(Fault(seed, name, "not so on cloth", each) for each in wrong)
    return Trial(sum(len(each.edges) for each in found.pieces), faults)


def outline(piece: Piece) -> Points:
    return np.concatenate([points for edge in piece.edges for points in sampled(edge)])


def polygon(piece: Piece) -> Polygon:
    points = outline(piece)
    return Polygon(np.column_stack([points.real, points.imag])).buffer(0)


def unfolded(cloth: Polygon, piece: Piece) -> Polygon:
    """Return the cloth with its other half, where it lies on a fold."""
    if piece.fold is None:
        return cloth
    (line,) = sampled(next(edge for edge in piece.edges if edge.name == piece.fold))
    along = (line[-1] - line[0]) / abs(line[-1] - line[0])
    turn, at = along * along, line[0]
    shift = at - turn * at.conjugate()
    matrix = [turn.real, turn.imag, turn.imag, -turn.real, shift.real, shift.imag]
    return cloth.union(affine_transform(cloth, matrix))


def _lies_as_it_lay(old: Piece, new: Piece) -> bool:
    """Return whether fold and grain are where they were: no piece is turned to lie on its cloth."""
    lines = [[p.grainline.start, p.grainline.end] if p.grainline else [] for p in (old, new)]
    if old.fold and new.fold:
        folds = [next(e for e in p.edges if e.name == p.fold) for p in (old, new)]
        ways = [(f.end - f.start) / abs(f.end - f.start) for f in folds]
        across = ((folds[1].start - folds[0].start) / ways[0]).imag
        return abs(ways[0] - ways[1]) < 1e-9 and abs(across) < 1e-6
    turned = [(line[1] - line[0]) / abs(line[1] - line[0]) for line in lines if line]
    return len(turned) == 2 and abs(turned[0] - turned[1]) < 1e-9


def _grain(piece: Piece) -> complex:
    fold = next((edge for edge in piece.edges if edge.name == piece.fold), None)
    ends = (fold.start, fold.end) if fold else None
    if ends is None and piece.grainline:
        ends = piece.grainline.start, piece.grainline.end
    if ends is None:
        return 1j
    way = (ends[1] - ends[0]) / abs(ends[1] - ends[0])
    return way if way.imag >= 0 else -way


def _edges(answer: ClothAnswer, cloth: Polygon, old: Piece, new: Piece) -> Iterator[str]:
    slide = answer.slide * _grain(old)
    lines = {edge.name: np.concatenate(sampled(edge)) + slide for edge in new.edges}
    for said in answer.edges:
        if said.edge not in lines or said.edge == new.fold:
            continue
        line = lines[said.edge]
        points = shapely.points(line.real, line.imag)
        inside = np.where(shapely.covers(cloth, points), 1.0, -1.0)
        depths = inside * shapely.distance(cloth.boundary, points)
        place, least = f"{answer.piece}.{said.edge}", float(depths.min())
        if said.reason is Reason.CLOTH and LEAST - least < said.lacking - OFF:
            yield f"{place} lacks {said.lacking:.1f} mm, and has {least:.1f} mm around it"
        # Where cloth lacks, the edges that meet there answer for one another.
        if answer.possible is Possible.CAN and least < -OFF:
            yield f"{place} can be sewn, and lies {-least:.1f} mm beyond the cloth"


def _cap(found: Alteration, old: Draft, new: Draft) -> Iterator[str]:
    """Yield what is not so of the cap as it was cut, against the armhole as it is corrected."""
    cap = found.cap
    if cap is None or len(cap.sections) != 2:
        return
    sleeve = piece_of(old, "sleeve")
    assert sleeve is not None
    eases = halves(new.with_pieces(sleeve))
    for each, ease in zip(cap.sections, eases, strict=True):
        if abs(each.new_ease - ease) > 0.1:
            yield f"the {each.name} of the cap has {ease:.2f} mm of ease, not {each.new_ease:.2f}"
    low, high, more = cap.allowed.low, cap.allowed.high, cap.allowed.tolerance
    bands = ((low, high), (0.4 * low, 0.4 * high), (0.6 * low, high * 2 / 3))
    off = max(outside(e, band) for e, band in zip((sum(eases), *eases), bands, strict=True))
    if cap.fits != (off <= more) and abs(off - more) > 0.1:
        yield f"the cap is said to fit: {cap.fits}, and is off by {off:.2f} mm"
