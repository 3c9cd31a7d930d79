"""trueup origin: which change of which node last shaped an edge."""

from typing import Annotated

import typer

from trueup.cli.json import forms as json_forms
from trueup.cli.opening import reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import show
from trueup.cli.render.patterns.origins import origin_table
from trueup.geometry.sides.naming import names_at
from trueup.lineage.evaluation.origin import origin as origin_of
from trueup.lineage.evaluation.origin import origins


def origin(
    node: options.Node,
    edge: Annotated[
        str | None,
        typer.Argument(
            metavar="PIECE.EDGE",
            help="An edge such as front.armhole; all edges unless given.",
            autocompletion=completion.edges,
        ),
    ] = None,
    as_of: options.AsOf = None,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Say where each edge got its shape: in which block or pattern, and by which step.

    An edge that no step shaped since is as it was drafted, in the block that is named.
    """
    with reading(folder, as_of, as_json=as_json) as wardrobe:
        wardrobe.state.node(node)
        if edge is None:
            found = origins(wardrobe.evaluator, node)
        else:
            draft = wardrobe.evaluator.draft(node)
            found = {
                each: origin_of(wardrobe.evaluator, node, *draft.split_edge_name(each))
                for each in names_at(draft.edge_names, edge)
            }
    if as_json:
        wardrobe.write(json_forms.origins(node, found))
    else:
        show(origin_table(found, wardrobe.state.unit, wardrobe.evaluator.body(node)))
