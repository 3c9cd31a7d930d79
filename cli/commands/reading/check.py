"""trueup check: do the seams sew together, the darts close and the lines run on smoothly."""

from typing import Annotated

import typer

from trueup.cli.failures import OPEN, Misused
from trueup.cli.opening import reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import show
from trueup.cli.render.bodies import waiting_lines
from trueup.cli.render.patterns.findings import all_lines, finding_lines
from trueup.lineage.bodies.following import of_lineage, waiting
from trueup.lineage.replay.standing import standing


def check(
    node: Annotated[
        str | None,
        typer.Argument(
            metavar="PATTERN",
            help="Name of a block or pattern; left out with --all.",
            autocompletion=completion.nodes,
        ),
    ] = None,
    every: Annotated[
        bool, typer.Option("--all", help="Every block and pattern, a line each.")
    ] = False,
    cluster: options.Cluster = None,
    as_of: options.AsOf = None,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Check that a block or pattern is true.

    Seams walk within the ease they are allowed, dart legs are equal, outlines do not cross
    themselves, armhole, neck and hem run on smoothly across the seams. Exits with 1 when something
    is open; what the maker has accepted is shown and does not count. A piece, or a line of
    one, for which no seam is stated cannot be checked, and is not called true; a neck, a hem, an
    opening, a fold and what is said to be free need none. What a correction and the pattern
    disagree about is listed by `conflicts`. With --all it exits with 3 when something
    cannot be read.
    """
    if (node is not None) is every:
        raise Misused("Name one block or pattern, or give --all for every one.")
    if node is None:
        return _check_all(cluster, as_of, as_json, folder)
    with reading(folder, as_of, cluster=cluster, as_json=as_json) as wardrobe:
        found = standing(wardrobe.evaluator, node)
        unit, commands = wardrobe.state.unit, wardrobe.commands
        undecided = wardrobe.state.node(node).open_conflicts
        behind = of_lineage(waiting(wardrobe.state), wardrobe.state, node)
    if as_json:
        from trueup.cli.json import forms as json_forms  # noqa: PLC0415

        wardrobe.write(json_forms.findings(node, found, behind))
    else:
        show(*finding_lines(node, found, undecided, unit, commands))
        show(*waiting_lines(behind, commands))
    return OPEN if any(each.is_open for each in found) else 0


def _check_all(
    cluster: str | None, as_of: str | None, as_json: bool, folder: options.Folder
) -> int:
    with reading(folder, as_of, evaluated=True, cluster=cluster, as_json=as_json) as wardrobe:
        state = wardrobe.state
        evaluator = wardrobe.evaluator
        found = {n: standing(evaluator, n) for n in evaluator.announced(state.in_order)}
        behind = waiting(state)
    if as_json:
        from trueup.cli.json import forms as json_forms  # noqa: PLC0415

        nodes = [
            json_forms.findings(name, each, of_lineage(behind, state, name))
            for name, each in found.items()
        ]
        wardrobe.write({"true": all(each["true"] for each in nodes), "nodes": nodes})
    else:
        show(*all_lines(found, wardrobe.commands))
        show(*waiting_lines(behind, wardrobe.commands))
    is_open = any(each.is_open for of_node in found.values() for each in of_node)
    return wardrobe.code_of_whole(OPEN if is_open else 0)
