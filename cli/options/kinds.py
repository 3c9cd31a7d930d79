"""The parameters of the kinds of change as command line options."""

import inspect
import re
from collections.abc import Iterable
from typing import TYPE_CHECKING, Annotated, Any

import typer

from trueup.cli.options import completion
from trueup.cli.options.made import keyword
from trueup.cli.terminal.typesetting import upper_first
from trueup.cli.wording.beyond import NO_SOURCE

if TYPE_CHECKING:
    from trueup.geometry.changes import Parameter

_COMPLETIONS = {
    "dart": completion.darts,
    "edge": completion.edges,
    "piece": completion.pieces,
    "seam": completion.seams,
}

METAVARS = {
    "length": "LENGTH",
    "position": "PLACE",
    "name": "NAME",
    "flag": "",
    "free_text": "TEXT",
    "number": "NUMBER",
}
"""How the page of a kind calls what an option takes, by what the parameter holds."""

_QUOTED = re.compile(r"`(\w+)`")
OF_THE_KIND = "Options of the step's kind"
_HOW_WRITTEN = {
    "LENGTH": "A LENGTH is written 12mm, 1.2cm, 1/2in or 1 1/2in; a bare number takes the "
    "wardrobe's unit.",
    "PLACE": "A PLACE on an edge is written '60mm from underarm' or '40% from underarm'.",
}


def how_written(options: Iterable[inspect.Parameter]) -> str:
    """Return how those things are written that these options of a kind take."""
    taken = {each.annotation.__metadata__[0].metavar for each in options}
    return " ".join(text for metavar, text in _HOW_WRITTEN.items() if metavar in taken)


def as_typed(text: str, known: "Iterable[Parameter]") -> str:
    """Return what is said of a kind with its parameters called as they are typed: `--by`."""
    names = {each.name for each in known}
    return _QUOTED.sub(lambda q: f"`{option_word(q[1])}`" if q[1] in names else q[0], text)


def option_word(name: str) -> str:
    """Return the option word of a parameter.

    >>> option_word("with_underarm")
    '--with-underarm'
    """
    return f"--{name.replace('_', '-')}"


def of_kind(parameter: "Parameter") -> inspect.Parameter:
    """Return a parameter as an option of its kind's own command."""
    from trueup.geometry.changes import ParameterType  # noqa: PLC0415

    word = option_word(parameter.name)
    if parameter.type is ParameterType.FLAG:
        return keyword(
            parameter.name, Annotated[bool, typer.Option(word, help=_sentence(parameter))], False
        )
    option = typer.Option(
        word,
        metavar=_metavar(parameter),
        help=_sentence(parameter),
        show_default=False,
        autocompletion=_completion(parameter),
    )
    return keyword(parameter.name, Annotated[str | None, option])


def of_any_kind() -> list[inspect.Parameter]:
    """Return the parameters of all kinds, each once, as options that change what a step says."""
    from trueup.geometry.changes import ParameterType, kinds, parameters  # noqa: PLC0415

    found: dict[str, Parameter] = {}
    used_by: dict[str, list[str]] = {}
    for name, cls in kinds().items():
        for parameter in parameters(cls):
            found.setdefault(parameter.name, parameter)
            used_by.setdefault(parameter.name, []).append(name)
    made = []
    for name, parameter in found.items():
        word, panel = option_word(name), OF_THE_KIND
        help_text = f"Of {', '.join(used_by[name])}."
        if parameter.type is ParameterType.FLAG:
            option = typer.Option(
                f"{word}/--no-{word[2:]}",
                help=help_text,
                show_default=False,
                rich_help_panel=panel,
            )
            made.append(keyword(name, Annotated[bool | None, option]))
        else:
            metavar = _metavar(parameter) if not parameter.choices else "WORD"
            option = typer.Option(
                word,
                metavar=metavar,
                help=help_text,
                show_default=False,
                rich_help_panel=panel,
                autocompletion=_by_what_it_names(parameter),
            )
            made.append(keyword(name, Annotated[str | None, option]))
    return made


def given_values(given: dict[str, Any]) -> dict[str, Any]:
    """Return the values that were really given, a flag only when it was set or taken back."""
    return {name: value for name, value in given.items() if value is not None}


def _metavar(parameter: "Parameter") -> str:
    if parameter.choices:
        return "|".join(parameter.choices)
    return METAVARS[parameter.type.value]


def _completion(parameter: "Parameter") -> Any:
    if parameter.choices:
        return completion.words(parameter.choices)
    return _by_what_it_names(parameter)


def _by_what_it_names(parameter: "Parameter") -> Any:
    from trueup.geometry.changes import ParameterType  # noqa: PLC0415

    if parameter.type is ParameterType.POSITION:
        return completion.corners
    return _COMPLETIONS.get(parameter.of)


def _sentence(parameter: "Parameter") -> str:
    text = f"{upper_first(parameter.help)}{_most(parameter)}"
    if parameter.required:
        return f"{text} (needed)."
    if parameter.default is None or parameter.default is False or parameter.default == "":
        return f"{text}."
    return f"{text} (unless given: {_default(parameter)})."


def _most(parameter: "Parameter") -> str:
    """Return from which amount on it is told that it is more than is recommended."""
    most = parameter.most
    if most is None:
        return ""
    less = f", or {most.less:g} mm less" if most.less is not None else ""
    return f"; more than {most.more:g} mm{less} is told of ({most.source or NO_SOURCE})"


def _default(parameter: "Parameter") -> str:
    return "0" if parameter.default == 0.0 else str(parameter.default)
