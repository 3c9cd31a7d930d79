"""Read a pattern off beside its block, the cloth that was cut, and siblings nobody complains of."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice

from trueup.geometry.sides.naming import names_at, read_at
from trueup.lineage.errors import Damaged, UnknownRevision, WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.garment_records import GarmentRecord

MOST_SIBLINGS = 8
"""More of them would say no more, and each has to be evaluated."""


@dataclass(frozen=True)
class Sibling:
    """A pattern of the same parent without this complaint: its measure, mm; its garments."""

    name: str
    mm: float
    garments: int


@dataclass(frozen=True)
class Reading:
    """One measure of a pattern, mm, beside what it is elsewhere; None where it is not there.

    `block_mm` is the measure of the drafted block the piece comes from, `cut_mm` that of the
    version a garment was cut from.
    """

    measure: str
    now_mm: float
    block_mm: float | None
    cut_mm: float | None
    siblings: tuple[Sibling, ...]


def read_off(
    evaluator: Evaluator,
    node: str,
    names: Iterable[str],
    symptom: str,
    cut: Mapping[str, float],
) -> tuple[Reading, ...]:
    """Return those of the named measures the node has, each beside block, cut cloth and siblings.

    `cut` are the measures of the cloth as it was cut, none where there is none to set beside it. A
    sibling with an open complaint of the same symptom is left out; those with garments, which have
    been tried, come first.
    """
    now = evaluator.summary(node).measures
    well = _without_complaint(evaluator, node, symptom)
    return tuple(
        Reading(
            name,
            now[name],
            _at_block(evaluator, node, name),
            read_at(cut, name),
            tuple(
                Sibling(sibling, mm, garments)
                for sibling, garments in well
                if (mm := read_at(evaluator.summary(sibling).measures, name)) is not None
            ),
        )
        for each in names
        for name in names_at(now, each)
        if name in now
    )


def root_of(evaluator: Evaluator, node: str, piece: str) -> tuple[Evaluator, str]:
    """Return the drafted block a node's piece comes from, and the evaluator to ask about it."""
    piece = evaluator.summary(node).own_name(piece)
    while (giver := evaluator.giver(node, piece)) is not None:
        evaluator, node = giver
    return evaluator, node


def ways_up(evaluator: Evaluator, node: str, piece: str) -> Iterator[str]:
    """Yield the node and those above that give it a piece, as long as it follows them as they are.

    Above one that stays on an old version a correction would not reach it.
    """
    at, piece = node, evaluator.summary(node).own_name(piece)
    yield at
    while (giver := evaluator.giver(at, piece)) is not None:
        source, at = giver
        if source is not evaluator:
            return
        yield at


def _at_block(evaluator: Evaluator, node: str, measure: str) -> float | None:
    piece = measure.partition(".")[0]
    pieces = evaluator.summary(node).told_of
    source, block = root_of(evaluator, node, piece if piece in pieces else pieces[0])
    return read_at(source.summary(block).measures, evaluator.summary(node).by_own_name(measure))


def as_cut(
    evaluator: Evaluator, garment: GarmentRecord | None
) -> tuple[Mapping[str, float], Damaged | UnknownRevision | None]:
    """Return the measures of the version a garment was cut from, and what kept it from being read.

    None are known where there is no garment.
    """
    if garment is None or evaluator.earlier is None:
        return {}, None
    try:
        return evaluator.earlier(garment.cut_from).summary(garment.pattern).measures, None
    except (Damaged, UnknownRevision) as error:
        return {}, error


def _without_complaint(evaluator: Evaluator, node: str, symptom: str) -> list[tuple[str, int]]:
    """Return siblings nobody complains of in this way, with the number of their garments.

    One that cannot be evaluated says nothing.
    """
    state = evaluator.state
    parents = {parent.name for parent in state.node(node).parents}
    beside = [
        name
        for name in state.in_order
        if name != node and parents & {parent.name for parent in state.node(name).parents}
    ]
    garments: dict[str, int] = dict.fromkeys(beside, 0)
    for garment in state.garments.values():
        if garment.pattern in garments:
            garments[garment.pattern] += 1
            if any(note.symptom == symptom for note in garment.open_notes):
                del garments[garment.pattern]
    in_order = sorted(garments.items(), key=lambda each: (-each[1], each[0]))
    return list(islice((each for each in in_order if _is_sound(evaluator, each[0])), MOST_SIBLINGS))


def _is_sound(evaluator: Evaluator, name: str) -> bool:
    try:
        evaluator.summary(name)
    except WardrobeError:
        return False
    return True
