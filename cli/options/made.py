"""Commands, made of a function and its annotations or of a registry."""

import inspect
from collections.abc import Callable
from typing import Any

import typer

from trueup.cli.plain.help_pages import PlainCommand

Run = Callable[..., int]


def keyword(name: str, annotation: Any, default: Any = None) -> inspect.Parameter:
    """Return a parameter for `as_command`."""
    return inspect.Parameter(
        name, inspect.Parameter.KEYWORD_ONLY, annotation=annotation, default=default
    )


def positional(
    name: str, annotation: Any, default: Any = inspect.Parameter.empty
) -> inspect.Parameter:
    """Return a parameter for `as_command` that has to be given, unless it has a default."""
    return inspect.Parameter(
        name, inspect.Parameter.POSITIONAL_OR_KEYWORD, annotation=annotation, default=default
    )


def as_command(
    run: Run, name: str, help_text: str, own: list[inspect.Parameter], epilog: str = ""
) -> Any:
    """Return a command with these parameters; `run` takes its context as `ctx`, and them.

    `epilog` ends its help.
    """
    every = [positional("ctx", typer.Context), *own]

    def call(**given: Any) -> int:
        return run(**given)

    call.__signature__ = inspect.Signature(every)  # type: ignore[attr-defined]
    call.__annotations__ = {each.name: each.annotation for each in every}
    app = typer.Typer(add_completion=False, rich_markup_mode=None)
    app.command(name, cls=PlainCommand, help=help_text, epilog=epilog or None)(call)
    return typer.main.get_command(app)


def plain(run: Callable[..., Any], cls: type[PlainCommand] = PlainCommand) -> Any:
    """Return the command that runs a function with what its annotations ask for."""
    alone = typer.Typer(add_completion=False, rich_markup_mode=None)
    alone.command(run.__name__.replace("_", "-"), cls=cls)(run)
    return typer.main.get_command(alone)
