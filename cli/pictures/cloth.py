"""The cloth of a garment as a picture: what its pattern, or a fitting, asks of it."""

from collections.abc import Mapping

from shapely.geometry import Polygon

from trueup.cli.drawing.cloth_picture import (
    ClothOnPage,
    ClothWords,
    EdgeLine,
    PieceOfCloth,
    cloth_on_page,
    cloth_picture,
)
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.render.garments.alteration import (
    AS_IF,
    AS_WANTED,
    EdgeWords,
    edge_words,
    how_laid,
    other_pieces,
    title,
    what_follows,
)
from trueup.geometry.cloth.cloth_areas import cloth_areas
from trueup.geometry.cloth.cut_cloth import Possible
from trueup.geometry.pleats.laid_open import as_cut, laid_open
from trueup.geometry.units import Unit
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.garments.alteration import Asked
from trueup.lineage.garments.answers import Alteration

_HEADS = ("edge", "", "asked for", "cloth")
_SEWN = "seam line as it was sewn"


def alteration_scene(asked: Asked, found: Alteration, unit: Unit, *, is_preview: bool) -> Scene:
    """Return the picture of what was found for what is asked of a garment's cloth."""
    return cloth_picture(*_alteration(asked, found, unit, is_preview=is_preview))


def alteration_pictures(
    asked: Asked, found: Alteration, unit: Unit, *, is_preview: bool = False
) -> ClothOnPage:
    """Return the same for a page, beside which its list stands."""
    return cloth_on_page(*_alteration(asked, found, unit, is_preview=is_preview))


def _alteration(
    asked: Asked, found: Alteration, unit: Unit, *, is_preview: bool
) -> tuple[list[PieceOfCloth], ClothWords]:
    answers = {answer.piece: answer for answer in found.pieces}
    pieces = []
    for old in as_cut(asked.old).pieces:
        cloth, answer = asked.cloth[old.name], answers.get(old.name)
        areas = None
        if answer is not None:
            new, lacked = laid_open(asked.new.piece(old.name)), asked.lacked(old.name)
            areas = cloth_areas(cloth, old, new, answer, asked.least, lacked)
        pieces.append(PieceOfCloth(old.name, cloth, old, areas))
    now = "as the fitting would have it" if is_preview else "as the pattern wants it now"
    notes = [AS_IF] if is_preview else []
    notes += other_pieces(found)
    if found.stays and not found.uneven:
        notes.append(AS_WANTED)
        now = "as it was sewn"
    else:
        notes += [*how_laid(found, unit), *what_follows(found, unit)]
    edges = tuple(_line(words) for words in edge_words(found, unit))
    told = ClothWords(title(found.garment), _SEWN, f"seam line {now}", _HEADS, edges, tuple(notes))
    return pieces, told


def cloth_alone(garment: GarmentRecord, cloth: Mapping[str, Polygon]) -> ClothOnPage:
    """Return pictures of cloth that cannot be compared with its pattern."""
    pieces = [PieceOfCloth(name, each) for name, each in cloth.items()]
    return cloth_on_page(pieces, ClothWords(title(garment), "", ""))


def _line(words: EdgeWords) -> EdgeLine:
    cells = (words.edge, words.can, words.asked, words.cloth)
    return EdgeLine(words.edge, words.possible is Possible.CAN, cells)
