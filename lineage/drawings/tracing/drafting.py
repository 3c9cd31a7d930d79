"""A new block from a maker's drawing: what is wrong with it is told as bad input, not as damage."""

from collections.abc import Mapping
from dataclasses import dataclass

from trueup.geometry.errors import GeometryError
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.drawings.tracing.errors import CannotTrace, UnnamedLines
from trueup.lineage.drawings.tracing.trace import traced
from trueup.lineage.errors import BadRecord


@dataclass(frozen=True)
class DraftDrawn:
    """The draft a drawing makes, and in words what the drawing does not say of it."""

    draft: Draft
    missing: tuple[str, ...]


def draft_from(
    content: bytes, names: Mapping[str, str], source: str, *, others: bool
) -> DraftDrawn:
    """Return the draft of a drawing; `others` says that lines without a name are left out.

    Raises CannotTrace, and UnnamedLines with what the lines look like.
    """
    try:
        found = traced(content, names, source, others=others)
    except BadRecord as error:
        raise CannotTrace(source, error.reason, error.field) from None
    if found.unnamed and not others:
        raise UnnamedLines(source, found.unnamed)
    if found.draft is None:
        raise CannotTrace(source, "none of its lines has a name like front.side")
    try:
        measures(found.draft)
        check(found.draft)
    except GeometryError as error:
        raise CannotTrace(source, error.says) from None
    return DraftDrawn(found.draft, found.missing)
