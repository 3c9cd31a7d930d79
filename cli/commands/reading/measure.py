"""trueup measure: read a pattern off with a tape."""

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.amounts import length
from trueup.cli.failures import DAMAGED
from trueup.cli.json import forms as json_forms
from trueup.cli.opening import reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import show
from trueup.cli.render.table import PlainTable


def measure(
    node: options.Node,
    names: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="MEASURE",
            help="Measures such as front.shoulder or sleeve.cap-ease, or all that begin with a "
            "name, such as front; all unless given.",
            autocompletion=completion.measures,
        ),
    ] = None,
    as_of: options.AsOf = None,
    over_time: Annotated[
        bool,
        typer.Option("--over-time", help="The measure at each step that changed it, oldest first."),
    ] = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Measure a block or pattern: seam lines as sewn, widths, darts and ease.

    Edges are measured along the seam line with their darts closed. With `--over-time` exits with 3
    when an earlier version cannot be read; it is passed over.
    """
    if over_time:
        return _over_time(node, names or (), as_of or "HEAD", folder, as_json=as_json)
    with reading(folder, as_of, as_json=as_json) as wardrobe:
        wardrobe.state.node(node)
        found = wardrobe.evaluator.summary(node).chosen(names or (), node)
        unit = wardrobe.state.unit
    if as_json:
        wardrobe.write(json_forms.measures(node, found))
        return 0
    rows = [(name, length(value, unit)) for name, value in found.items()]
    show(PlainTable(("measure", node), rows, right=(node,)))
    return 0


def _over_time(
    node: str, names: Sequence[str], until: str, folder: Path | None, *, as_json: bool
) -> int:
    # The history is loaded only where it is asked for.
    from trueup.cli.json import chronicle as json_chronicle  # noqa: PLC0415
    from trueup.cli.render.patterns.over_time import over_time_lines  # noqa: PLC0415
    from trueup.lineage.chronicle import Chronicle  # noqa: PLC0415
    from trueup.lineage.chronicle.over_time import over_time  # noqa: PLC0415

    with reading(folder, until, as_json=as_json) as wardrobe:
        found = over_time(Chronicle(wardrobe.wardrobe, until), node, names)
        if as_json:
            wardrobe.write(json_chronicle.over_time(node, found))
        else:
            show(*over_time_lines(node, found, wardrobe.state.unit))
    return DAMAGED if wardrobe.gaps else 0
