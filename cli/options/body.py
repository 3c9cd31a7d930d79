"""The measurements of a body as options: those that any drafting system asks for."""

import datetime
import inspect
from collections.abc import Iterable, Iterator, Mapping
from typing import Annotated

import typer

from trueup.cli.failures import Misused
from trueup.cli.options import completion
from trueup.cli.options.made import keyword
from trueup.cli.terminal.typesetting import upper_first
from trueup.geometry.drafting import SYSTEMS, BodyMeasurement
from trueup.geometry.drafting.further import FURTHER
from trueup.geometry.units import Unit, format_length, parse_length
from trueup.lineage.garments.saying import day
from trueup.lineage.replay.drafted_anew.for_body import ForBody

For = Annotated[
    str | None,
    typer.Option(
        "--for",
        metavar="WEARER",
        help="Take what is not given from what was measured of this wearer: the newest set of "
        "measurements, or that of --date.",
        show_default=False,
        autocompletion=completion.bodies,
    ),
]
SetOf = Annotated[
    str | None,
    typer.Option(
        "--date",
        metavar="YEAR-MONTH-DAY",
        help="The day of the set of measurements to take; the newest unless given.",
        show_default=False,
    ),
]


def of_any_system() -> list[inspect.Parameter]:
    """Return an option for each measurement that a drafting system asks for."""
    return _options(each for one in SYSTEMS.values() for each in one.measurements)


def of_any_body() -> list[inspect.Parameter]:
    """Return an option for each measurement that a drafting system asks for, and for others."""
    asked = [each for one in SYSTEMS.values() for each in one.measurements]
    return _options((*asked, *FURTHER))


def _options(measurements: Iterable[BodyMeasurement]) -> list[inspect.Parameter]:
    taken = {each.name: each.help for each in measurements}
    return [
        keyword(
            name.replace("-", "_"),
            Annotated[
                str | None,
                typer.Option(
                    f"--{name}",
                    metavar="LENGTH",
                    help=f"{upper_first(text)}.",
                    show_default=False,
                ),
            ],
        )
        for name, text in taken.items()
    ]


def wish_of(wearer: str | None, date: str | None) -> ForBody | None:
    """Return for whom a block is to be drafted, where that was said; raises BadDate."""
    if wearer is None:
        if date is not None:
            raise Misused("Say whose set of measurements --date is about, as in --for ada.")
        return None
    return ForBody(wearer, day(date, datetime.date.today()) if date is not None else None)


def given_body(given: Mapping[str, str | None]) -> dict[str, str]:
    """Return the measurements that were given, by their names."""
    return {word.replace("_", "-"): text for word, text in given.items() if text is not None}


def out_of_range(given: Mapping[str, str], unit: Unit) -> Iterator[str]:
    """Yield in a sentence each which measurement is more or less than anybody drafts from."""
    asked = [each for one in SYSTEMS.values() for each in one.measurements]
    known = {each.name: each for each in (*asked, *FURTHER)}
    for name, text in given.items():
        if name in known:
            low, high, mm = known[name].low, known[name].high, parse_length(text, unit)
            if not low <= mm <= high:
                between = f"{format_length(low, unit)} to {format_length(high, unit)}"
                yield (
                    f"{name} {format_length(mm, unit)} lies outside of {between}, between which "
                    "blocks are drafted: look whether it is no slip."
                )
