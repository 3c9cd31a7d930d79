"""What can be done on the cloth of both sides of the body, answered for each and told together."""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import replace
from typing import TypeVar

from trueup.geometry.cloth.sewing_order import SewingStep
from trueup.geometry.pieces.side import Side, side_of, sided, unsided
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.records import replace as record_with
from trueup.lineage.garments.answers import Alteration

Answered = TypeVar("Answered")

Ask = Callable[[Side], Alteration]


def on_side(
    found: Mapping[str, Answered], names: Iterable[str], side: Side | None
) -> dict[str, Answered]:
    """Return what is known of some pieces on a side of the body; of both alike, where it is so."""
    known = {name: _first(found, (sided(name, side), unsided(name))) for name in names}
    return {name: each for name, each in known.items() if each is not None}


def _first(found: Mapping[str, Answered], names: Iterable[str]) -> Answered | None:
    return next((found[name] for name in names if name in found), None)


def garment_on(garment: GarmentRecord, side: Side) -> GarmentRecord:
    """Return a garment with what is known of its edges as it is on one side, by shared names."""
    lacking = {unsided(p): mm for p, mm in garment.lacking.items() if side_of(p) in (None, side)}
    stitched = tuple(unsided(p) for p in garment.stitched_down if side_of(p) in (None, side))
    return record_with(garment, lacking=lacking, stitched_down=stitched)


def of_both_sides(ask: Ask, apart: Collection[str]) -> Alteration:
    """Return the answers of both sides as one; what is `apart` is told by its name on its side."""
    left, right = (ask(side) for side in Side)
    both = tuple(zip(Side, (left, right), strict=True))

    def name(piece: str, side: Side) -> str:
        return sided(piece, side) if piece in apart else piece

    def place(full: str, side: Side) -> str:
        piece, dot, rest = full.partition(".")
        return f"{name(piece, side)}{dot}{rest}"

    return replace(
        left,
        pieces=_once(
            replace(each, piece=name(each.piece, side)) for side, at in both for each in at.pieces
        ),
        uneven=_once(
            replace(
                each,
                seam=name(each.seam, side),
                shorter=place(each.shorter, side),
                longer=place(each.longer, side),
                at=place(each.at, side),
            )
            for side, at in both
            for each in at.uneven
        ),
        steps=left.steps if left.steps == right.steps else tuple(_told(both)),
        not_cut=_once(name(each, side) for side, at in both for each in at.not_cut),
        not_wanted=_once(name(each, side) for side, at in both for each in at.not_wanted),
        cap=None,
        hollowing=None,
        sides=both,
    )


def _once(each: Iterable[Answered]) -> tuple[Answered, ...]:
    found: list[Answered] = []
    for one in each:
        if one not in found:
            found.append(one)
    return tuple(found)


def _told(both: Iterable[tuple[Side, Alteration]]) -> Iterable[SewingStep]:
    for side, at in both:
        for step in at.steps:
            places = tuple(sided(each, side) for each in step.places)
            says = f"On the {side}: {step.says[0].lower()}{step.says[1:]}"
            yield replace(step, places=places, says=says)
