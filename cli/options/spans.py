"""Options that say which part of the history is meant, and what they mean."""

import datetime
from typing import TYPE_CHECKING, Annotated

import typer

from trueup.cli.failures import Misused

if TYPE_CHECKING:
    from trueup.lineage.chronicle.span import Span
    from trueup.lineage.opened import OpenWardrobe

Since = Annotated[
    str | None,
    typer.Option(
        "--since",
        metavar="DATE|VERSION",
        help="Only what was done from a day on, as in 2025-03-01, or after a version.",
        show_default=False,
    ),
]
Between = Annotated[
    tuple[str, str] | None,
    typer.Option(
        "--between",
        metavar="VERSION VERSION",
        help="Only what was done after the first version or day, up to the second.",
        show_default=False,
    ),
]


def span_of(
    wardrobe: "OpenWardrobe", since: str | None, between: tuple[str, str] | None = None
) -> "Span":
    """Return the part of the history asked for; all of it where nothing was said."""
    from trueup.lineage.chronicle import span  # noqa: PLC0415

    today = datetime.date.today()
    if since is not None and between is not None:
        raise Misused("--since and --between both say from when on; give one of them.")
    if between is not None:
        return span.between(wardrobe, *between, today)
    return span.ALL if since is None else span.since(wardrobe, since, today)
