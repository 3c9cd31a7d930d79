"""trueup note: write down what is seen on a worn garment."""

import datetime
from pathlib import Path
from typing import Annotated, Any

import typer

from trueup.cli.carrying_out.filing import file_step
from trueup.cli.command_line import CommandLine
from trueup.cli.json import forms as json_forms
from trueup.cli.json import garments as json_garments
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.options.garment_words import side_named
from trueup.cli.options.made import plain
from trueup.cli.options.symptom_help import SymptomCommand
from trueup.cli.page import show
from trueup.cli.render.garments.garment import noted_lines
from trueup.lineage.files.photos import read_photo
from trueup.lineage.garments import notes


def note(
    garment: options.Garment,
    symptom: Annotated[
        str,
        typer.Argument(
            metavar="SYMPTOM",
            help="What is seen, in one of the words under Symptoms; `other` where --words say it.",
            autocompletion=completion.symptoms,
        ),
    ],
    place: Annotated[
        str,
        typer.Option(
            "--place",
            metavar="PIECE.EDGE|LEVEL",
            help="Where: an edge or dart such as front.armhole, or a level such as bust.",
            show_default=False,
            autocompletion=completion.places,
        ),
    ],
    amount: Annotated[
        str | None,
        typer.Option(
            "--amount", metavar="LENGTH", help="How much, as pinned or guessed.", show_default=False
        ),
    ] = None,
    side: Annotated[
        str,
        typer.Option(
            "--side",
            metavar="left|right|both",
            help="On which side of the body.",
            autocompletion=completion.words(("left", "right", "both")),
        ),
    ] = "both",
    wearer: Annotated[
        str,
        typer.Option(
            "--wearer",
            metavar="TEXT",
            help="Who wore it; whom it was cut for unless given.",
            show_default=False,
        ),
    ] = "",
    date: options.Date = None,
    photo: Annotated[
        Path | None,
        typer.Option(
            "--photo",
            metavar="FILE",
            help="A JPEG, PNG or WebP picture; a small copy is kept, without place, time or owner.",
            show_default=False,
        ),
    ] = None,
    words: Annotated[
        str,
        typer.Option("--words", metavar="TEXT", help="In your own words.", show_default=False),
    ] = "",
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Write down what is seen on a worn garment: a fit note.

    The place is one that the version of the pattern has from which the garment was cut.
    """
    picture = read_photo(photo) if photo is not None else None
    seen = notes.Seen(symptom, place, amount, side_named(side), wearer, date, words, picture)
    filing, commit, state = file_step(
        folder, lambda wardrobe: notes.note(wardrobe, garment, seen, datetime.date.today())
    )
    if as_json:
        json_forms.write(json_garments.filed(filing, commit))
    else:
        show(*noted_lines(filing, commit, state.unit, CommandLine(folder)))


def verb() -> Any:
    """Return the verb with the symptoms on its help page."""
    return plain(note, SymptomCommand)
