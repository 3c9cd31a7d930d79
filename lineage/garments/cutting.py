"""Record that cloth was cut from one exact version of a pattern."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count

from shapely.geometry import Polygon

from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pleats.laid_open import as_cut
from trueup.lineage.drawings.outline import outline_svg
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.records import ConflictRecord
from trueup.lineage.files.state import State
from trueup.lineage.garments.filing import Filing
from trueup.lineage.garments.saying import day, words
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.replay.edits import require_free
from trueup.lineage.replay.standing import inherited_conflicts


@dataclass(frozen=True)
class Cutting:
    """What is said of a garment when it is cut; `as_of` names an earlier version of the pattern.

    `name` is chosen from the pattern's when it is empty, `date` is today when it is None.
    """

    pattern: str
    name: str = ""
    fabric: str = ""
    wearer: str = ""
    date: str | None = None
    stitched_down: Sequence[str] = ()
    as_of: str | None = None


def cut(wardrobe: OpenWardrobe, cutting: Cutting, today: datetime.date) -> Filing:
    """Return the step that records a garment; nothing is written yet.

    Raises NoSuchNode for a pattern that is not there at that version, UnknownRevision, NameTaken,
    BadName, BadDate, BadWords, and NoSuchName for an edge that cannot be stitched down.
    """
    version = wardrobe.head if cutting.as_of is None else wardrobe.resolve(cutting.as_of)
    evaluator = _evaluator(wardrobe, cutting)
    evaluator.state.node(cutting.pattern)
    name = cutting.name or free_name(wardrobe.state, cutting.pattern)
    require_free(wardrobe.state, name)
    cut_on = day(cutting.date, today)
    draft = evaluator.draft(cutting.pattern)
    for edge in cutting.stitched_down:
        draft.split_edge_name(edge)
    garment = GarmentRecord(
        name=name,
        pattern=cutting.pattern,
        cut_from=version,
        cut_on=cut_on,
        fabric=words(cutting.fabric, "fabric"),
        wearer=words(cutting.wearer, "wearer"),
        allowances=allowances_of(draft),
        stitched_down=tuple(dict.fromkeys(cutting.stitched_down)),
    )
    drawing = outline_svg(as_cut(draft), cloth_of(draft), name)
    return Filing(
        wardrobe.base,
        garment,
        "cut",
        f"Cut {name} from {cutting.pattern}",
        beside={garment.outline_path: drawing},
    )


def open_conflicts(wardrobe: OpenWardrobe, cutting: Cutting) -> tuple[ConflictRecord, ...]:
    """Return what waited for a decision in the version that is cut, inherited or its own."""
    evaluator = _evaluator(wardrobe, cutting)
    own = evaluator.state.node(cutting.pattern).open_conflicts
    return (*own, *inherited_conflicts(evaluator, cutting.pattern))


def _evaluator(wardrobe: OpenWardrobe, cutting: Cutting) -> Evaluator:
    if cutting.as_of is None:
        return wardrobe.evaluator
    return wardrobe.evaluator_at(cutting.as_of)


def free_name(state: State, pattern: str) -> str:
    """Return the pattern's name with the first number that no garment and no node has.

    >>> from trueup.lineage.files.records import Settings
    >>> free_name(State(Settings("empty"), {}), "blouse")
    'blouse-1'
    """
    return next(name for n in count(1) if state.path_of(name := f"{pattern}-{n}") is None)


def allowances_of(draft: Draft) -> dict[str, float]:
    """Return the seam and hem allowances of a draft, mm, by `piece.edge`; edges without one not."""
    found = {
        f"{piece.name}.{edge}": piece.allowance(edge)
        for piece in draft.pieces
        for edge in piece.edge_names
    }
    return {name: amount for name, amount in found.items() if amount > 0}


def cloth_of(draft: Draft) -> dict[str, Polygon]:
    """Return the outline each piece of a draft is cut by, with the cloth of darts and pleats."""
    return {piece.name: cutting_line(piece) for piece in as_cut(draft).pieces}
