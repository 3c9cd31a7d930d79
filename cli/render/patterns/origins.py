"""Where the edges of a node got their shapes, on the page."""

from collections.abc import Mapping

from trueup.cli.render.steps import amounts
from trueup.cli.render.table import PlainTable
from trueup.lineage.evaluation.origin import Origin


def origin_table(found: Mapping[str, Origin]) -> PlainTable:
    """Return a row for each edge: the node and step that last shaped it."""
    return PlainTable(("edge", "shaped at", "by"), [_row(edge, found[edge]) for edge in found])


def _row(edge: str, origin: Origin) -> tuple[str, str, str]:
    if origin.step is None:
        return edge, origin.node, "as drafted"
    step = origin.step
    why = f": {step.why}" if step.why else ""
    return edge, origin.node, f"{step.role.value} {step.kind} {amounts(step)} ({step.id}){why}"
