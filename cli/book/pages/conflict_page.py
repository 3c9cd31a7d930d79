"""The page of a conflict: its picture, its numbers, and its remedies with their commands."""

from markupsafe import Markup

from trueup.cli.book.figures import figure
from trueup.cli.book.lines import html_lines
from trueup.cli.book.source import BookSource
from trueup.cli.book.templating import page
from trueup.cli.pictures.conflicts import conflict_scene
from trueup.cli.render.conflicts import conflict_lines
from trueup.lineage.files.records import ConflictState


def conflict_page(source: BookSource, conflict_id: str) -> Markup:
    """Return the page of a conflict; raises NoSuchConflict.

    What was settled has no picture: the pattern is no longer as it was.
    """
    conflict = source.state.conflict(conflict_id)
    waits = conflict.state is not ConflictState.SETTLED
    return page(
        "conflict.html",
        conflict=conflict,
        addresses=source.addresses,
        picture=figure(conflict_scene(source.reading, conflict), 1) if waits else None,
        lines=html_lines(conflict_lines(conflict, source.unit, source.commands), {}),
        shown_by=source.inheriting.get(conflict_id, ()),
    )
