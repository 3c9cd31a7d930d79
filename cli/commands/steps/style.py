"""trueup style: change a pattern for its looks."""

from typing import Any

import typer

from trueup.cli.failures import Misused
from trueup.cli.groups.of_kinds import group_of_kinds
from trueup.cli.options import shared as options


def style(
    ctx: typer.Context,
    node: options.Node,
    why: options.Why = "",
    preview: options.Preview = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Change a block or pattern for its looks.

    Name the block or pattern and a kind of change, with the kind's own options after it:
    `trueup style spring-blouse lower-neck --piece front --by 2cm`. A length may be bound to the
    body that the block was drafted for: `--by '4% of waist'`, `--by 'bust/24 + 1cm'`.
    """
    del why, preview, as_json, folder  # the kind's own command looks them up
    if ctx.invoked_subcommand is None:
        raise Misused(
            f"Say which kind of change {node} takes; `trueup style {node} --help` lists them."
        )


def verb() -> Any:
    """Return the verb with the kinds of change below it."""
    return group_of_kinds(style)
