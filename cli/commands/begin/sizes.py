"""trueup sizes: a pattern in every size of a table."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.failures import Misused
from trueup.cli.json.patterns import sizes as json_sizes
from trueup.cli.opening import reading
from trueup.cli.options import shared as options
from trueup.cli.page import show
from trueup.cli.render.patterns.sizes import size_lines
from trueup.lineage.sizes.run import base_of, drafted_from, sizes_of
from trueup.lineage.sizes.table import read_table, table_content


def sizes(
    node: options.Node,
    table: Annotated[
        Path | None,
        typer.Option(
            "--table",
            metavar="FILE.csv|FILE.toml",
            help="The size table: a row a size, its name in the first column, and a column for "
            "each measurement that the block is drafted from.",
            show_default=False,
        ),
    ] = None,
    why: options.Why = "",
    preview: options.Preview = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Make a pattern in every size of a table, in one step, or list the sizes it has.

    For each row a block is drafted, called after the size: it takes the corrections of the block
    that the pattern stands on. The style is grafted onto each. Both arrive later, too. With a table
    that was changed, sizes that are there are measured anew and new ones are made; one that the
    table has no more stays. In CSV a bare number takes the wardrobe's unit, and a line that starts
    with # is left out; in TOML a size is a table: `[12]`, then `bust = "88cm"`.
    """
    if table is None:
        return _list(node, why or preview, as_json, folder)
    place, content = str(table), table_content(table)
    return carry_out(
        Manner(folder, preview, as_json),
        lambda wardrobe: wardrobe.propose_sizes(node, read_table(place, content), place, why),
        lambda wardrobe, commands: size_lines(
            node, sizes_of(wardrobe.state, node), wardrobe.state.unit, commands
        ),
    )


def _list(node: str, is_step: str | bool, as_json: bool, folder: Path | None) -> int:
    if is_step:
        raise Misused("--why and --preview belong to making sizes; name the size table: --table.")
    with reading(folder, as_json=as_json) as wardrobe:
        found = sizes_of(wardrobe.state, node)
        known = drafted_from(base_of(wardrobe.state, node))
        unit, commands = wardrobe.state.unit, wardrobe.commands
    if as_json:
        wardrobe.write(json_sizes.run(node, found, known, unit))
    else:
        show(*size_lines(node, found, unit, commands))
    return 0
