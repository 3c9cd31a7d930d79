"""The forms of a fit note as HTML: to write one down, and to say which correction mended it."""

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from trueup.cli.book.figures import figure_of_pieces
from trueup.cli.book.templating import page
from trueup.cli.drawing.draft_picture import pieces_of_draft
from trueup.cli.failures import Misused
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.trying.became import TEMPLATES
from trueup.cli.options.symptom_help import symptoms_in_words
from trueup.cli.wording.words import worded_error
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.files.garment_errors import BadPhoto
from trueup.lineage.files.records import RemeasuringRecord, StepRecord
from trueup.lineage.garments.mending import could_mend
from trueup.lineage.garments.notes import places
from trueup.lineage.limits import LARGEST_PHOTO, LONGEST_TEXT

PHOTO = "photo"
"""What a photo is called that was sent: it has no name here."""

_PICTURE = 900  # beside those of the page the form stands on
_LEVELS = "levels"


@dataclass(frozen=True)
class _Mender:
    """What may have mended a note: the node, its step, and both in words."""

    node: str
    step: str
    words: str


def note_form(desk: Desk, name: str) -> Markup:
    """Return the fields of a fit note on a garment, with the version that it was cut from.

    Raises NoSuchGarment, UnknownRevision, Damaged.
    """
    garment = desk.wardrobe.state.garment(name)
    draft = desk.wardrobe.evaluator_at(garment.cut_from).draft(garment.pattern)
    title = f"{garment.pattern} as it was cut"
    too_large = BadPhoto(PHOTO, f"it is larger than {LARGEST_PHOTO // 1_000_000} MB")
    return page(
        "note_form.html",
        TEMPLATES,
        garment=garment,
        picture=figure_of_pieces(pieces_of_draft(draft, title), _PICTURE, title),
        symptoms=list(symptoms_in_words()),
        places=_by_piece(places(draft)),
        unit=desk.source.unit.value,
        longest=LONGEST_TEXT,
        largest=LARGEST_PHOTO,
        too_large=worded_error(too_large, desk.source.unit),
    )


def resolve_form(desk: Desk, name: str) -> Markup:
    """Return the fields by which a note on a garment is said to be mended, or not to be after all.

    Raises NoSuchGarment, and Misused where nothing is noted on it.
    """
    garment = desk.wardrobe.state.garment(name)
    if not garment.notes:
        raise Misused(f"Nothing is noted on {name} yet, so nothing of it can be mended.")
    return page(
        "resolve_form.html",
        TEMPLATES,
        garment=garment,
        unit=desk.source.unit,
        menders=list(_menders(desk, name)),
    )


def _by_piece(names: tuple[str, ...]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for each in names:
        found.setdefault(each.partition(".")[0] if "." in each else _LEVELS, []).append(each)
    return found


def _menders(desk: Desk, garment: str) -> Iterator[_Mender]:
    wardrobe, unit = desk.wardrobe, desk.source.unit
    for node, made in reversed(could_mend(wardrobe, wardrobe.state.garment(garment))):
        yield _Mender(node, made.id, f"{_in_words(made, unit)}, at {node} ({made.id})")


def _in_words(made: StepRecord | RemeasuringRecord, unit: Unit) -> str:
    return "measured anew" if isinstance(made, RemeasuringRecord) else step_in_words(made, unit)
