"""Commands whose options are made from a registry, and only when the command is run."""

import inspect
from collections.abc import Callable
from typing import Any

import typer

from trueup.cli.help_pages import PlainCommand

Run = Callable[..., int]


def keyword(name: str, annotation: Any, default: Any = None) -> inspect.Parameter:
    """Return a parameter for `as_command`."""
    return inspect.Parameter(
        name, inspect.Parameter.KEYWORD_ONLY, annotation=annotation, default=default
    )


def positional(name: str, annotation: Any) -> inspect.Parameter:
    """Return a parameter for `as_command` that has to be given."""
    return inspect.Parameter(name, inspect.Parameter.POSITIONAL_OR_KEYWORD, annotation=annotation)


def as_command(run: Run, name: str, help_text: str, own: list[inspect.Parameter]) -> Any:
    """Return a command with these parameters; `run` takes its context as `ctx`, and them."""
    every = [positional("ctx", typer.Context), *own]

    def call(**given: Any) -> int:
        return run(**given)

    call.__signature__ = inspect.Signature(every)  # type: ignore[attr-defined]
    call.__annotations__ = {each.name: each.annotation for each in every}
    app = typer.Typer(add_completion=False, rich_markup_mode=None)
    app.command(name, cls=PlainCommand, help=help_text)(call)
    return typer.main.get_command(app)


class MadeCommand(PlainCommand):
    """A command that stands for one made at the moment it is used: a subclass says how."""

    def made(self) -> Any:
        """Return the command itself."""
        raise NotImplementedError

    def make_context(self, *args: Any, **more: Any) -> Any:
        """Start the command itself."""
        return self.made().make_context(*args, **more)
