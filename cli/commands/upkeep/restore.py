"""trueup restore: say what is wrong with a wardrobe, and mend it."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.command_line import CommandLine
from trueup.cli.failures import DAMAGED
from trueup.cli.hints import error_sentence
from trueup.cli.json import forms as json_forms
from trueup.cli.json import restoring as json_restoring
from trueup.cli.options import shared as options
from trueup.cli.options.named_files import inside
from trueup.cli.page import note, show
from trueup.cli.render.restoring import restored_lines
from trueup.lineage.restoring import restoring


def restore(
    files: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="FILE ...",
            help="Files whose last recorded version is put back, as in patterns/blouse.toml; the "
            "whole wardrobe is looked over unless given.",
            show_default=False,
        ),
    ] = None,
    preview: Annotated[
        bool, typer.Option("--preview", help="Say what is wrong and what helps; write nothing.")
    ] = False,
    clone: Annotated[
        Path | None,
        typer.Option(
            "--from",
            metavar="COPY",
            help="The folder of another copy of the wardrobe, in which what is missing is looked "
            "for.",
            show_default=False,
        ),
    ] = None,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Say what is wrong with a wardrobe, and mend it.

    Damaged, emptied and missing files are brought back from the history, from git's logs, from the
    files themselves, or from another copy. Nothing is deleted: what was in the way is moved to a
    folder in `.git/trueup/aside`, which is named, and steps that are lost are told. A file that was
    edited by hand and can be read is left alone unless it is named. Exits with 3 while something is
    not whole.
    """
    place = folder or Path()
    named = [inside(folder, name) for name in files or ()]
    if named:
        made = restoring.put_back(place, named, preview=preview)
    else:
        made = restoring.restore(place, clone=clone, preview=preview)
    if as_json:
        json_forms.write(json_restoring.restored(made, preview=preview))
    else:
        words = ("restore", *named, *(("--from", str(clone)) if clone else ()))
        again = CommandLine(folder).line(*words) if preview else None
        show(*restored_lines(made, place, named, again))
    if made.stopped is not None:
        note(error_sentence(made.stopped))
    return 0 if made.is_whole else DAMAGED
