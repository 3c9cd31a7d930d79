"""Arguments and options that several verbs share, each said once."""

from pathlib import Path
from typing import Annotated, Any

import typer

from trueup.cli.options import completion


def given_above(ctx: typer.Context, name: str) -> Any:
    """Return an option's value as given before the verb or the kind, None when it was not."""
    above = ctx.parent
    while above is not None:
        if above.params.get(name):
            return above.params[name]
        above = above.parent
    return None


def _folder(ctx: typer.Context, value: Path | None) -> Path | None:
    return value if value is not None else given_above(ctx, "folder")


def _json(ctx: typer.Context, value: bool) -> bool:
    return value or bool(given_above(ctx, "as_json"))


def _cluster(ctx: typer.Context, value: str | None) -> str | None:
    return value if value is not None else given_above(ctx, "cluster")


def _tell_version(asked: bool) -> None:
    """Print the version and end the command, before any verb is looked at."""
    if asked:
        from importlib.metadata import version  # noqa: PLC0415

        from trueup.cli.page import write  # noqa: PLC0415

        write(f"trueup {version('trueup')}\n")
        raise typer.Exit


FOLDER_HELP = "The wardrobe's folder; the folder you stand in unless given."
WHY_HELP = "Why, in your own words; it is kept with the step."
PREVIEW_HELP = "Show what would become of every pattern, and write nothing."
JSON_HELP = "Answer another program: one JSON document, lengths in mm."

RootFolder = Annotated[
    Path | None, typer.Option("-C", metavar="FOLDER", help=FOLDER_HELP, show_default=False)
]
Version = Annotated[
    bool,
    typer.Option(
        "--version", help="Print the version of trueup.", is_eager=True, callback=_tell_version
    ),
]
Folder = Annotated[
    Path | None,
    typer.Option("-C", metavar="FOLDER", help=FOLDER_HELP, show_default=False, callback=_folder),
]
Node = Annotated[
    str,
    typer.Argument(
        metavar="PATTERN", help="Name of a block or pattern.", autocompletion=completion.nodes
    ),
]
Why = Annotated[str, typer.Option("--why", metavar="TEXT", help=WHY_HELP, show_default=False)]
Preview = Annotated[bool, typer.Option("--preview", help=PREVIEW_HELP)]
Json = Annotated[bool, typer.Option("--json", help=JSON_HELP, callback=_json)]
Cluster = Annotated[
    str | None,
    typer.Option(
        "--cluster",
        metavar="ADDRESS",
        help="Have other machines work the patterns out: the address of a Dask scheduler, as "
        "tcp://192.0.2.7:8786.",
        show_default=False,
        callback=_cluster,
    ),
]
AsOf = Annotated[
    str | None,
    typer.Option(
        "--as-of",
        metavar="VERSION",
        help="Answer for this earlier version, by the letters and digits that `history` lists it "
        "under.",
        show_default=False,
    ),
]
Garment = Annotated[
    str,
    typer.Argument(
        metavar="GARMENT", help="Name of a garment.", autocompletion=completion.garments
    ),
]
Mends = Annotated[
    list[str] | None,
    typer.Option(
        "--mends",
        metavar="NOTE",
        help="A fit note that this correction mends, as `garment` lists it; once for each.",
        show_default=False,
        autocompletion=completion.notes,
    ),
]
Date = Annotated[
    str | None,
    typer.Option(
        "--date",
        metavar="YEAR-MONTH-DAY",
        help="The day it was, as in 2025-03-31; today unless given.",
        show_default=False,
    ),
]
Picture = Annotated[
    Path | None,
    typer.Option(
        "--picture",
        metavar="FILE.svg|FILE.png",
        help="Draw it as well, in a file of this name.",
        show_default=False,
    ),
]
Force = Annotated[bool, typer.Option("--force", help="Write over a file that is there already.")]
