"""Conflicts of an open wardrobe as pictures: each by itself, and all of a node numbered in one."""

from trueup.cli.drawing.conflict_picture import (
    ConflictOnPage,
    ConflictWords,
    conflict_on_page,
    conflict_picture,
)
from trueup.cli.drawing.draft_picture import Marked, draft_picture
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.opening import OpenToRead
from trueup.cli.pictures.comparing import ComparedVersion
from trueup.cli.render.conflicts import numbers_line, place_words, remedy_line
from trueup.cli.wording.words import worded
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.errors import WardrobeError
from trueup.lineage.files.records import ConflictKind, ConflictRecord, ConflictState
from trueup.lineage.replay.standing import waiting_at


def marked_draft(reading: OpenToRead, node: str) -> Scene:
    """Return the picture of a node, the conflicts that wait at it numbered; raises NoSuchNode."""
    marked = [
        Marked(each, _says(each, node, reading.state.unit))
        for each in waiting_at(reading.evaluator, node)
    ]
    count = len(marked)
    open_ones = f", {count} open conflict{'' if count == 1 else 's'}" if marked else ""
    return draft_picture(reading.evaluator.draft(node), f"{node}{open_ones}", marked)


def _says(conflict: ConflictRecord, node: str, unit: Unit) -> str:
    says = worded(conflict.says, unit)
    return says if conflict.arose_at == node else f"{conflict.arose_at}: {says}"


def conflict_scene(reading: OpenToRead, conflict: ConflictRecord, number: int = 1) -> Scene:
    """Return the picture of one conflict, before the correction that brought it and as it is now.

    Where the version before it is gone or cannot be read, it is drawn only as it is now.
    """
    before, told = _told(reading, conflict)
    now = reading.evaluator.draft(conflict.arose_at)
    return conflict_picture(conflict, before, now, told, reading.state.unit, number)


def conflict_pictures(reading: OpenToRead, conflict: ConflictRecord) -> ConflictOnPage:
    """Return the same for a page, in pictures that bear no sentence."""
    before, told = _told(reading, conflict)
    now = reading.evaluator.draft(conflict.arose_at)
    return conflict_on_page(conflict, before, now, told, reading.state.unit)


def _told(reading: OpenToRead, conflict: ConflictRecord) -> tuple[Draft | None, ConflictWords]:
    """Return the draft a conflict is shown against, where there is one, and what is written."""
    node, unit = conflict.arose_at, reading.state.unit
    before = _before(reading, conflict) or _corrected(reading, conflict)
    settled = "" if conflict.state is ConflictState.OPEN else f", {conflict.state.value}"
    told = ConflictWords(
        f"{conflict.id}{settled}: {node}{place_words(conflict)}",
        before[1] if before else "",
        node if conflict.kind is ConflictKind.BOTH_SHAPED else "now",
        tuple(filter(None, (worded(conflict.says, unit), numbers_line(conflict, unit)))),
        tuple(remedy_line(each, unit) for each in conflict.remedies),
    )
    return (before[0] if before else None), told


def _before(reading: OpenToRead, conflict: ConflictRecord) -> tuple[Draft, str] | None:
    """Return the node before the correction, and what it is called."""
    if not conflict.since or conflict.kind is ConflictKind.BOTH_SHAPED:
        return None
    node = conflict.arose_at
    try:
        evaluator = reading.wardrobe.evaluator_at(conflict.since)
        evaluator.state.node(node)
        commit = reading.wardrobe.commit(conflict.since)
        version = ComparedVersion(node, evaluator.draft(node), commit)
    except (WardrobeError, GeometryError):
        return None
    return version.draft, f"before: {version.when_words}"


def _corrected(reading: OpenToRead, conflict: ConflictRecord) -> tuple[Draft, str] | None:
    """Return the corrected node, whose line a pattern drew anew and so does not have."""
    if conflict.kind is not ConflictKind.BOTH_SHAPED:
        return None
    try:
        reading.state.node(conflict.corrected)
        draft = reading.evaluator.draft(conflict.corrected)
    except (WardrobeError, GeometryError):
        return None
    return draft, f"{conflict.corrected}, as corrected"
