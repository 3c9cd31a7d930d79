"""The reference page, written from the commands and the registry of kinds themselves.

python -m trueup.cli.reference > cli/REFERENCE.md
"""

import inspect
import sys
from collections.abc import Iterable, Iterator
from typing import Any

import typer

from trueup.cli import limits_table
from trueup.cli.groups.of_kinds import KindGroup
from trueup.cli.main import app
from trueup.cli.options.kinds import OF_THE_KIND
from trueup.cli.options.symptom_help import symptoms_in_words
from trueup.cli.plain.examples import EXAMPLES
from trueup.cli.plain.kind_examples import typed
from trueup.cli.terminal.typesetting import upper_first
from trueup.geometry.changes import kinds
from trueup.geometry.drafting import SYSTEMS

_FROM_TYPER = ("install_completion", "show_completion")
_KINDS_OF_BOTH = "correct"  # `style` has the same kinds with the same options
_COMPLETION = (
    "`trueup --install-completion` teaches your shell to complete the names of verbs, patterns, "
    "pieces, edges, darts, steps, conflicts and kinds."
)

_ABOUT_SYMPTOMS = "The words in which `note` takes down what is seen, and `diagnose` is asked."
_ABOUT_LIMITS = (
    "A wardrobe may come from a stranger, so nothing is read, drawn or measured beyond what any "
    "maker needs. What holds more is refused in one sentence."
)


def reference() -> str:
    """Return the page as Markdown."""
    lines = ["# Reference", "", "Written from the code by `python -m trueup.cli.reference`."]
    root = context_of(typer.main.get_command(app), "trueup")
    lines += ["", "## trueup", "", *_page(root), "", _COMPLETION]
    for name, command in verbs(root).items():
        lines += ["", f"## trueup {name}", "", *_page(context_of(command, name, root))]
        lines += ["", *(f"    {line}" for line in EXAMPLES[name])]
    lines += ["", "## Kinds of change", "", *_about_kinds()]
    for name, context in kind_contexts(root).items():
        lines += ["", f"### {name}", "", *_page(context), ""]
        lines += (f"    {line}" for line in typed("style", name))
    lines += ["", "## Drafting systems"]
    for system in SYSTEMS.values():
        rows = ((f"`--{each.name}`", f"{each.help}.") for each in system.measurements)
        lines += ["", f"### {system.name}", "", f"{system.summary}.", "", *_rows(rows)]
    lines += ["", "## Symptoms", "", _ABOUT_SYMPTOMS, ""]
    lines += _rows((f"`{word}`", f"{says}.") for word, says in symptoms_in_words())
    lines += ["", "## Limits", "", _ABOUT_LIMITS, "", *limits_table.table()]
    return "\n".join(lines) + "\n"


def context_of(command: Any, name: str, parent: Any = None) -> Any:
    """Return a context of a command without any argument, to ask it about itself."""
    return command.make_context(name, [], parent=parent, resilient_parsing=True)


def verbs(root: Any) -> dict[str, Any]:
    """Return every verb by name."""
    return {name: root.command.get_command(root, name) for name in root.command.list_commands(root)}


def kind_contexts(root: Any) -> dict[str, Any]:
    """Return a context of each kind's command by the kind's name."""
    group: KindGroup = root.command.get_command(root, _KINDS_OF_BOTH)
    above = context_of(group, _KINDS_OF_BOTH, root)
    return {name: context_of(group.get_command(above, name), name, above) for name in kinds()}


def entries(context: Any) -> Iterator[tuple[str, str]]:
    """Yield each argument and option of a command as it is written, and its help."""
    yield from _entries(context.command.params)


def _is_of_a_kind(parameter: Any) -> bool:
    """Return whether an option is that of a step's kind, whose page explains it."""
    return getattr(parameter, "rich_help_panel", None) == OF_THE_KIND


def _entries(parameters: Iterable[Any]) -> Iterator[tuple[str, str]]:
    for parameter in parameters:
        if parameter.name in _FROM_TYPER:
            continue
        if parameter.param_type_name == "argument":
            yield f"`{parameter.metavar}`", parameter.help or ""
        else:
            words = ", ".join([*parameter.opts, *parameter.secondary_opts])
            metavar = "" if parameter.is_flag else f" {parameter.metavar}"
            yield f"`{words}{metavar}`", parameter.help or ""


def _page(context: Any) -> Iterator[str]:
    yield inspect.cleandoc(context.command.help or "")
    own = [each for each in context.command.params if not _is_of_a_kind(each)]
    rows = [*_entries(own)]
    if len(own) < len(context.command.params):
        yield from ("", "Its options are those of the step's kind, and these:")
    if rows:
        yield ""
        yield from _rows(rows)


def _rows(rows: Any) -> Iterator[str]:
    for word, text in rows:
        yield f"- {word}: {upper_first(text)}"


def _about_kinds() -> Iterator[str]:
    yield (
        "`trueup style PATTERN KIND` makes a change for looks, `trueup correct PATTERN KIND` one "
        "for fit. Lengths are written `12mm`, `1.2cm`, `1/2in` or `1 1/2in`; a bare number takes "
        "the wardrobe's unit. Places are written `60mm from underarm` or `40% from underarm`. The "
        "examples can be typed as they stand in the wardrobe of `trueup demo stage --garments`."
    )


if __name__ == "__main__":
    sys.stdout.write(reference())
