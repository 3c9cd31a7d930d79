"""The page of a garment: what it was cut from, its fit notes and photos, what its cloth allows."""

import base64
import mimetypes
from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup
from rich.console import RenderableType

from trueup.cli.amounts import length
from trueup.cli.book.figures import figure_of_pieces
from trueup.cli.book.lines import html_lines
from trueup.cli.book.pages.worn.causes_told import CauseTold, cause_told
from trueup.cli.book.pages.worn.garment_told import became_told, facts_told, notes_told
from trueup.cli.book.source import BookSource
from trueup.cli.book.templating import page
from trueup.cli.drawing.cloth_picture import ClothOnPage
from trueup.cli.pictures.cloth import alteration_pictures, cloth_alone
from trueup.cli.render.garments.alteration import alteration_lines
from trueup.cli.render.garments.seen import note_in_short
from trueup.cli.terminal.typesetting import upper_first
from trueup.cli.wording.words import worded_error
from trueup.geometry.errors import GeometryError
from trueup.lineage.errors import WardrobeError
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.garments.alteration import asked_of, cloth_of
from trueup.lineage.garments.since import Fate, Since, since
from trueup.lineage.limits import LARGEST_PAGE

_PICTURES = ("image/jpeg", "image/png", "image/webp")


@dataclass(frozen=True)
class _Cloth:
    """What the cloth still allows: as a picture, where the cloth is known, and in lines."""

    pictures: ClothOnPage | None
    lines: tuple[RenderableType, ...]


@dataclass(frozen=True)
class _Measured:
    """The measures of the pattern a garment was cut from, or a sentence why there are none."""

    measures: tuple[tuple[str, str], ...] = ()
    says: str = ""


@dataclass(frozen=True)
class _Photo:
    """A photo inside the page, as a data address, and what it shows.

    Without content the words say why it cannot be shown.
    """

    content: str
    words: str


def garment_page(source: BookSource, name: str) -> Markup:
    """Return the page of a garment; raises NoSuchGarment."""
    garment = source.state.garment(name)
    became = since(source.wardrobe, garment)
    says, changes = became_told(source, became)
    cloth = _cloth(source, garment)
    return page(
        "garment.html",
        garment=garment,
        addresses=source.addresses,
        says=says,
        changes=changes,
        can_alter=became.fate is Fate.CHANGED,
        notes=notes_told(source, garment),
        facts=list(facts_told(source, garment)),
        commands=list(_commands(source, garment, became)),
        photos=list(_photos(source, garment)),
        causes=_causes(source, name),
        picture=figure_of_pieces(
            cloth.pictures.pieces, 1, f"The cloth of {name}", cloth.pictures.key
        )
        if cloth.pictures
        else None,
        cloth=html_lines(cloth.lines, source.addresses),
        measured=_measured(source, garment),
    )


def _commands(source: BookSource, garment: GarmentRecord, became: Since) -> Iterator[str]:
    """Yield what can be typed to see to what is open."""
    line = source.commands.line
    if became.fate is Fate.CHANGED:
        yield line("alter", garment.name)
    made = [each.step.id for each in became.corrections]
    made += [each for block in became.blocks for each in block.made]
    for note in garment.open_notes:
        yield line("diagnose", garment.name, "--note", note.id)
        if made:
            yield line("resolve", note.id, "--by", made[-1])


def _photos(source: BookSource, garment: GarmentRecord) -> Iterator[_Photo]:
    size = 0
    for note in garment.notes:
        if note.photo:
            try:
                content = source.wardrobe.file(note.photo)
            except WardrobeError as error:
                yield _Photo("", f"{_shows(source, note)}. {worded_error(error, source.unit)}")
                continue
            size += len(content)
            if size > LARGEST_PAGE:
                yield _Photo(
                    "", f"{_shows(source, note)}. It is too large for this page: {note.photo}"
                )
                continue
            data = base64.b64encode(content).decode("ascii")
            yield _Photo(f"data:{_media_type(note.photo)};base64,{data}", _shows(source, note))


def _media_type(photo: str) -> str:
    """Return what a kept photo is (IANA, Media Types), by how its name ends."""
    found, _ = mimetypes.guess_type(photo)
    return found if found in _PICTURES else "image/jpeg"


def _shows(source: BookSource, note: FitNote) -> str:
    seen = note_in_short(note, source.unit)
    words = f": {note.words}" if note.words else ""
    return f"{upper_first(seen)}, {note.date.isoformat()}{words}"


def _causes(source: BookSource, garment: str) -> list[CauseTold]:
    return [
        cause_told(source, cause)
        for cause in source.causes.causes
        if any(seen.garment.name == garment for seen in cause.notes)
    ]


def _cloth(source: BookSource, garment: GarmentRecord) -> _Cloth:
    try:
        asked = asked_of(source.wardrobe, garment.name)
        found = asked.answer()
    except (WardrobeError, GeometryError) as error:
        says = worded_error(error, source.unit)
        return _Cloth(_cloth_alone(source, garment), (says,))
    lines = alteration_lines(found, source.unit, source.commands, is_preview=False, numbered=True)
    return _Cloth(alteration_pictures(asked, found, source.unit), tuple(lines))


def _cloth_alone(source: BookSource, garment: GarmentRecord) -> ClothOnPage | None:
    try:
        return cloth_alone(garment, cloth_of(source.wardrobe, garment))
    except WardrobeError:
        return None


def _measured(source: BookSource, garment: GarmentRecord) -> _Measured:
    try:
        found = source.wardrobe.evaluator_at(garment.cut_from).summary(garment.pattern).measures
    except (WardrobeError, GeometryError) as error:
        return _Measured(says=worded_error(error, source.unit))
    unit = source.unit
    return _Measured(tuple((measure, length(mm, unit)) for measure, mm in found.items()))
