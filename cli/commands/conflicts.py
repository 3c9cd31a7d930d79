"""trueup conflicts: what waits for a decision, and how it can be settled."""

from typing import Annotated

import typer

from cli import completion, options
from cli.failures import OPEN


def conflicts(
    node: Annotated[
        str | None,
        typer.Argument(
            metavar="NODE",
            help="Only those of a block or pattern, with those it inherits; all unless given.",
            autocompletion=completion.nodes,
        ),
    ] = None,
    every: Annotated[
        bool, typer.Option("--all", help="Those accepted or settled as well.")
    ] = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """List the conflicts that wait for a decision, parents first.

    Each says where it arose, what does not hold, and the command for each way to settle it. Exits
    with 1 when one is open.
    """
    from cli import json_forms  # noqa: PLC0415
    from cli.opening import reading  # noqa: PLC0415
    from cli.render.conflicts import conflict_list  # noqa: PLC0415
    from cli.render.page import show  # noqa: PLC0415
    from lineage.records import ConflictState  # noqa: PLC0415
    from lineage.standing import inherited_conflicts  # noqa: PLC0415

    with reading(folder) as wardrobe:
        state, commands = wardrobe.state, wardrobe.commands
        found = state.conflicts
        inherited = inherited_conflicts(wardrobe.evaluator, state.node(node).name) if node else ()
    listed = [
        each
        for each in found
        if (node is None or each.arose_at == node) and (every or each.state is ConflictState.OPEN)
    ]
    if as_json:
        json_forms.write(json_forms.conflicts(listed, inherited, commands))
    else:
        show(*conflict_list(listed, inherited, state.unit, commands, node))
    is_open = any(each.state is ConflictState.OPEN for each in (*listed, *inherited))
    return OPEN if is_open else 0
