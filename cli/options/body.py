"""The measurements of a body as options: those that any drafting system asks for."""

import inspect
from collections.abc import Mapping
from typing import Annotated

import typer

from trueup.cli.options.made import keyword
from trueup.geometry.drafting import SYSTEMS


def of_any_system() -> list[inspect.Parameter]:
    """Return an option for each measurement that a drafting system asks for."""
    taken = {each.name: each.help for one in SYSTEMS.values() for each in one.measurements}
    return [
        keyword(
            name.replace("-", "_"),
            Annotated[
                str | None,
                typer.Option(
                    f"--{name}",
                    metavar="LENGTH",
                    help=f"{text[:1].upper()}{text[1:]}.",
                    show_default=False,
                ),
            ],
        )
        for name, text in taken.items()
    ]


def given_body(given: Mapping[str, str | None]) -> dict[str, str]:
    """Return the measurements that were given, by their names."""
    return {word.replace("_", "-"): text for word, text in given.items() if text is not None}
