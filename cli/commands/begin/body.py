"""trueup body: what was measured of a wearer, day by day, and what follows from it."""

import datetime
import inspect
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Any

import typer

from trueup.cli.command_line import CommandLine
from trueup.cli.failures import Misused
from trueup.cli.json import bodies as json_bodies
from trueup.cli.json import forms as json_forms
from trueup.cli.opening import reading
from trueup.cli.options import body as body_options
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.options.made import as_command, keyword, positional
from trueup.cli.page import note, show
from trueup.cli.render.bodies import body_lines, list_lines, recorded_lines
from trueup.lineage.bodies.recording import MeasuredNow, record

_WEARER = Annotated[
    str | None,
    typer.Argument(
        metavar="[WEARER]",
        help="Whose body it is, as garments name the wearer; all bodies unless given.",
        autocompletion=completion.bodies,
        show_default=False,
    ),
]
_ALSO = Annotated[
    list[str] | None,
    typer.Option(
        "--also",
        metavar="NAME=LENGTH",
        help="Any other measurement by a name of your own, as instep=24cm; once for each.",
        show_default=False,
    ),
]
_DATE = Annotated[
    str | None,
    typer.Option(
        "--date",
        metavar="YEAR-MONTH-DAY",
        help="The day it was measured, as in 2025-03-31; today unless given.",
        show_default=False,
    ),
]
_TAKEN_BY = Annotated[
    str,
    typer.Option("--taken-by", metavar="TEXT", help="Who measured.", show_default=False),
]
_AGE = Annotated[
    int | None,
    typer.Option("--age", metavar="YEARS", help="The wearer's age that day.", show_default=False),
]
_WORDS = Annotated[
    str,
    typer.Option(
        "--words",
        metavar="TEXT",
        help="What else is to be known of it, such as over which clothes it was measured.",
        show_default=False,
    ),
]


def body() -> None:
    """Write down what was measured of a wearer, or show it, with what changed since.

    Measurements given become a set of that day: `trueup body ada --bust 92cm --waist 70cm --date
    2025-03-31 --taken-by Mina`. What a set does not hold counts as it was measured last. Nothing
    that is drafted moves: a block drafted with `draft --for ada` is told to wait, and follows by
    `remeasure`. Without measurements the sets are shown beside each other, with the blocks and
    garments that follow from them. They are kept in `bodies/`, in a file for each wearer that may
    also be written by hand.
    """


def verb() -> Any:
    """Return the verb with the measurements that are taken of a body as options."""
    return as_command(_run, "body", body.__doc__ or "", _parameters())


def _parameters() -> list[inspect.Parameter]:
    return [
        positional("wearer", _WEARER, None),
        keyword("date", _DATE),
        keyword("taken_by", _TAKEN_BY, ""),
        keyword("age", _AGE),
        keyword("words", _WORDS, ""),
        *body_options.of_any_body(),
        keyword("also", _ALSO),
        keyword("as_json", options.Json, False),
        keyword("folder", options.Folder),
    ]


def _run(
    ctx: Any,  # noqa: ARG001
    wearer: str | None,
    date: str | None,
    taken_by: str,
    age: int | None,
    words: str,
    also: list[str] | None,
    as_json: bool,
    folder: Path | None,
    **body: str | None,
) -> int:
    measured = {**body_options.given_body(body), **dict(_named(also or ()))}
    if not measured and (date or taken_by or words or age is not None):
        raise Misused("Say what was measured, as in `trueup body ada --bust 92cm`.")
    if wearer is None:
        if measured:
            raise Misused("Say of whom it was measured, as in `trueup body ada --bust 92cm`.")
        return _list(folder, as_json=as_json)
    if not measured:
        return _show(wearer, folder, as_json=as_json)
    taken = MeasuredNow(wearer, measured, date, taken_by, age, words)
    return _record(taken, folder, as_json=as_json)


def _named(also: "list[str] | tuple[()]") -> Iterator[tuple[str, str]]:
    for each in also:
        name, is_given, length = each.partition("=")
        if not is_given:
            raise Misused(f"Write --also as a name and a length, as in instep=24cm, not {each}.")
        yield name.strip(), length


def _list(folder: Path | None, *, as_json: bool) -> int:
    with reading(folder, as_json=as_json) as wardrobe:
        state, commands = wardrobe.state, wardrobe.commands
    if as_json:
        wardrobe.write(json_bodies.bodies(state))
    else:
        show(*list_lines(state, commands))
    return wardrobe.code_of_whole()


def _show(wearer: str, folder: Path | None, *, as_json: bool) -> int:
    with reading(folder, as_json=as_json) as wardrobe:
        state, commands = wardrobe.state, wardrobe.commands
        found = state.body(wearer)
    if as_json:
        wardrobe.write(json_bodies.body(found, state))
    else:
        show(*body_lines(found, state, commands))
    return 0


def _record(taken: MeasuredNow, folder: Path | None, *, as_json: bool) -> int:
    # Loaded for a step alone: writing asks for more than showing does.
    from trueup.cli.carrying_out.filing import file_step  # noqa: PLC0415

    today = datetime.date.today()
    recording, commit, state = file_step(folder, lambda opened: record(opened, taken, today))
    for line in body_options.out_of_range(taken.measurements, state.unit):
        note(line)
    if as_json:
        json_forms.write(json_bodies.recorded(recording, commit, state))
    else:
        show(*recorded_lines(recording, commit, state, CommandLine(folder)))
    return 0
