"""Where the edges of a node got their shapes, on the page."""

from collections.abc import Mapping

from trueup.cli.render.table import PlainTable
from trueup.geometry.amounts import Body
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.evaluation.origin import Origin


def origin_table(found: Mapping[str, Origin], unit: Unit, body: Body) -> PlainTable:
    """Return a row for each edge: the node and step that last shaped it; `body` of the node."""
    rows = [_row(edge, found[edge], unit, body) for edge in found]
    return PlainTable(("edge", "shaped at", "by"), rows)


def _row(edge: str, origin: Origin, unit: Unit, body: Body) -> tuple[str, str, str]:
    if origin.step is None:
        return edge, origin.node, "as drafted"
    step = origin.step
    why = f": {step.why}" if step.why else ""
    words = step_in_words(step, unit, body)
    return edge, origin.node, f"{words} ({step.role.value} {step.id}){why}"
