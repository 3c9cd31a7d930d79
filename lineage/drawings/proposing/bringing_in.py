"""Bring in a drawing of any kind: by the names its own lines have, or looked over and stated."""

from collections.abc import Callable, Mapping
from pathlib import PurePath
from typing import TypeVar

from trueup.geometry.errors import GeometryError
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.drawings.photographs.frame.strips import REACH
from trueup.lineage.drawings.photographs.kind import is_picture
from trueup.lineage.drawings.proposing.drawing_file import DXF, LookedAt, looked_over, read_shapes
from trueup.lineage.drawings.shapes.dxf.reading import described_in
from trueup.lineage.drawings.shapes.shape import ShapePage
from trueup.lineage.drawings.stating.names_file import read_names
from trueup.lineage.drawings.stating.settling import settled
from trueup.lineage.drawings.stating.stated import Stated
from trueup.lineage.drawings.tracing.drafting import DraftDrawn, draft_from
from trueup.lineage.drawings.tracing.errors import CannotTrace, UnnamedLines
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.drawings.tracing.names import name_of
from trueup.lineage.drawings.tracing.page import read_page
from trueup.lineage.drawings.tracing.trace import require_piece
from trueup.lineage.errors import BadRecord

_Answer = TypeVar("_Answer")


def names_its_lines(content: bytes, names: Mapping[str, str], source: str) -> bool:
    """Return whether a drawing in SVG says of itself what its lines are, or `names` say it."""
    if PurePath(source).suffix.lower() == DXF or is_picture(content, source):
        return False
    try:
        page = read_page(content, source)
    except BadRecord:
        return False
    told = (names.get(line.name, line.name) for line in page.lines if not line.is_closed)
    return page.description is not None or any(map(name_of, told))


def described_draft(content: bytes, source: str) -> DraftDrawn | None:
    """Return the draft that a DXF of ours describes, if it is one; raises CannotTrace."""
    if PurePath(source).suffix.lower() != DXF:
        return None

    def drawn() -> DraftDrawn | None:
        text = described_in(content, source)
        if text is None:
            return None
        draft = read_form(text, source)
        for piece in draft.told_of:
            require_piece(piece, source)
        _require_measured(draft, source)
        return DraftDrawn(draft, ())

    return _told(source, drawn)


def look_at(
    content: bytes,
    source: str,
    names: Mapping[str, str],
    lengths: Mapping[str, float],
    stated: Stated | None = None,
    *,
    over: bool | None = None,
    reach: float = REACH,
) -> LookedAt:
    """Return what is seen in a drawing, and proposed (`looked_over`).

    `reach` is that of the strips of the frame as they were printed, mm, for a photograph. Raises
    CannotTrace; CannotMeasure and LibraryMissing for a photograph.
    """

    page = shapes_of(content, source, reach)
    return look_at_shapes(page, source, names, lengths, stated, over=over)


def shapes_of(content: bytes, source: str, reach: float = REACH) -> ShapePage:
    """Return the lines of a drawing, by themselves, to be looked at; raises as `look_at` does."""
    return _told(source, lambda: read_shapes(content, source, reach))


def look_at_shapes(
    page: ShapePage,
    source: str,
    names: Mapping[str, str],
    lengths: Mapping[str, float],
    stated: Stated | None = None,
    *,
    over: bool | None = None,
) -> LookedAt:
    """Return what is seen in a drawing whose lines were read; raises CannotTrace."""
    return _told(source, lambda: looked_over(page, source, names, lengths, stated, over=over))


def stated_in(content: bytes, place: str) -> Stated:
    """Return what a text file states of a drawing; raises CannotTrace."""
    return _told(place, lambda: read_names(content, place))


def restated(stated: Stated, source: str, how: Callable[[Stated], Stated]) -> Stated:
    """Return what is stated as it is stated otherwise; raises CannotTrace."""
    return _told(source, lambda: how(stated))


def own_draft(content: bytes, source: str) -> DraftDrawn | None:
    """Return the draft of a drawing that says itself what its lines are, all of them, or None."""
    try:
        described = described_draft(content, source)
        if described is not None or not names_its_lines(content, {}, source):
            return described
        return draft_from(content, {}, source, others=False)
    except (CannotTrace, UnnamedLines):
        return None


def draft_as_stated(looked: LookedAt, source: str) -> DraftDrawn:
    """Return the draft of a drawing as it is stated; raises CannotTrace."""

    def drawn() -> DraftDrawn:
        found = settled(looked.found, looked.stated, source)
        _require_measured(found.draft, source)
        return DraftDrawn(found.draft, found.missing)

    return _told(source, drawn)


def _require_measured(draft: Draft, source: str) -> None:
    try:
        measures(draft)
        check(draft)
    except GeometryError as error:
        raise CannotTrace(source, error.says) from None


def _told(source: str, answer: Callable[[], _Answer]) -> _Answer:
    try:
        return answer()
    except BadRecord as error:
        raise CannotTrace(source, error.reason, error.field) from None
