"""The page of a garment: what it was cut from, its fit notes and photos, what its cloth allows."""

import base64
import mimetypes
from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup
from rich.console import RenderableType

from cli.book.lines import html_lines
from cli.book.source import Source
from cli.book.templating import page
from cli.render.alteration import alteration_lines
from cli.render.faults import one_cause_lines
from cli.render.garments import garment_lines
from geometry.errors import GeometryError
from lineage.errors import WardrobeError
from lineage.garments.alteration import alteration_of
from lineage.garments.records import FitNote, GarmentRecord
from lineage.garments.since import since

_PICTURES = ("image/jpeg", "image/png", "image/webp")


@dataclass(frozen=True)
class _Photo:
    """A photo inside the page, as a data address, and what it shows."""

    content: str
    words: str


def garment_page(source: Source, name: str) -> Markup:
    """Return the page of a garment; raises NoSuchGarment."""
    garment = source.state.garment(name)
    became = since(source.wardrobe, garment)
    told = garment_lines(garment, became, source.state, source.commands)
    return page(
        "garment.html",
        garment=garment,
        addresses=source.addresses,
        lines=html_lines(told, source.addresses),
        photos=list(_photos(source, garment)),
        causes=html_lines(_causes(source, name), source.addresses),
        cloth=html_lines(_cloth(source, name), source.addresses),
    )


def _photos(source: Source, garment: GarmentRecord) -> Iterator[_Photo]:
    for note in garment.notes:
        if note.photo:
            try:
                content = source.wardrobe.file(note.photo)
            except WardrobeError:
                continue
            data = base64.b64encode(content).decode("ascii")
            yield _Photo(f"data:{_media_type(note.photo)};base64,{data}", _shows(note))


def _media_type(photo: str) -> str:
    """Return what a kept photo is (IANA, Media Types), by how its name ends."""
    found, _ = mimetypes.guess_type(photo)
    return found if found in _PICTURES else "image/jpeg"


def _shows(note: FitNote) -> str:
    words = f": {note.words}" if note.words else ""
    return f"{note.symptom} at {note.place}, {note.date.isoformat()} ({note.id}){words}"


def _causes(source: Source, garment: str) -> Iterator[RenderableType]:
    for cause in source.causes.causes:
        if any(seen.garment.name == garment for seen in cause.notes):
            yield from one_cause_lines(cause, source.commands)


def _cloth(source: Source, name: str) -> Iterator[RenderableType]:
    try:
        found = alteration_of(source.wardrobe, name)
    except (WardrobeError, GeometryError) as error:
        yield str(error)
        return
    yield from alteration_lines(found, source.unit, source.commands, is_preview=False)
