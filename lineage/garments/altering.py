"""Record that a garment was altered: its cloth as it is now, and the version it was altered to.

What is taken in is cut back, as the alteration says; cloth that is cut away cannot come back. The
outline it was cut by stays beside the new one.
"""

from trueup.geometry.cloth.cloth_areas import altered_cloth
from trueup.geometry.cloth.cut_cloth import Reason
from trueup.lineage.drawings.outline import outline_svg
from trueup.lineage.files.garment_records import GarmentRecord, Status
from trueup.lineage.files.records import replace
from trueup.lineage.garments.alteration import Asked, asked_of
from trueup.lineage.garments.answers import Alteration
from trueup.lineage.garments.filing import Filing
from trueup.lineage.garments.since import Fate, since
from trueup.lineage.opened import OpenWardrobe


def altered(wardrobe: OpenWardrobe, garment: GarmentRecord, why: str) -> Filing:
    """Return the step that records a garment as altered to its pattern as it is now.

    Where the pattern is gone or cannot be read, only the status is recorded. Raises BadRecord or
    NoSuchFile for the drawing of its cloth.
    """
    says = f"{garment.name} is {Status.ALTERED}"
    if since(wardrobe, garment).fate in (Fate.DELETED, Fate.UNREADABLE):
        unknown = f"{says}; what was done to its cloth is not known"
        return Filing(
            wardrobe.base, replace(garment, status=Status.ALTERED), "garment", unknown, why
        )
    asked = asked_of(wardrobe, garment.name)
    found = asked.answer()
    now = replace(garment, status=Status.ALTERED, altered_to=wardrobe.base, lacking=_lacking(found))
    beside = {now.altered_path: _drawing(asked, found)}
    says += f" to {garment.pattern} as it is now"
    return Filing(wardrobe.base, now, "garment", says, why, beside=beside)


def is_behind(wardrobe: OpenWardrobe, garment: GarmentRecord) -> bool:
    """Return whether a garment's pattern changed since it was cut, or altered last."""
    return since(wardrobe, garment).fate is Fate.CHANGED


def _lacking(found: Alteration) -> dict[str, float]:
    """Return by how much cloth lacks, mm by edge, where it does; the tenth of a mm is enough."""
    return {
        f"{answer.piece}.{edge.edge}": round(edge.lacking, 1)
        for answer in found.pieces
        for edge in answer.edges
        if edge.reason is Reason.CLOTH
    }


def _drawing(asked: Asked, found: Alteration) -> bytes:
    """Return the drawing of the cloth as it is altered, in the frame of the pattern as it is."""
    cloth = {
        answer.piece: altered_cloth(
            asked.cloth[answer.piece],
            asked.old.piece(answer.piece),
            asked.new.piece(answer.piece),
            answer,
            asked.least,
            asked.lacked(answer.piece),
        )
        for answer in found.pieces
    }
    return outline_svg(asked.new.only(cloth), cloth, f"{found.garment.name}, altered")
