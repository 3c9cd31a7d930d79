"""Where the edges of a node got their shapes, on the page."""

from collections.abc import Mapping

from trueup.cli.page import said, said_lines
from trueup.cli.render.table import Cell, PlainTable
from trueup.geometry.amounts import Body
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.evaluation.origin import Origin


def origin_table(found: Mapping[str, Origin], unit: Unit, body: Body) -> PlainTable:
    """Return a row for all edges that one step shaped last: the node and the step.

    `body` is that of the node.
    """
    shaped: dict[tuple[str, str], list[str]] = {}
    for edge, origin in found.items():
        shaped.setdefault((origin.node, origin.step.id if origin.step else ""), []).append(edge)
    rows = [_row(edges, found[edges[0]], unit, body) for edges in shaped.values()]
    return PlainTable(("edge", "shaped at", "by"), rows)


def _row(edges: list[str], origin: Origin, unit: Unit, body: Body) -> tuple[Cell, Cell, Cell]:
    return said_lines(edges), said(origin.node), said_lines(_by(origin, unit, body))


def _by(origin: Origin, unit: Unit, body: Body) -> list[str]:
    step = origin.step
    if step is None:
        return ["as drafted"]
    why = [step.why] if step.why else []
    return [step_in_words(step, unit, body), *why, f"({step.role.value} {step.id})"]
