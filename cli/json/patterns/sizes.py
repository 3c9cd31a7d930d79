"""The sizes of a pattern and their growth as JSON, lengths in mm."""

from collections.abc import Sequence
from typing import Any

from trueup.cli.json.forms import mm
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.sizes.growth import RunGrowth
from trueup.lineage.sizes.run import SizeOf

Form = dict[str, Any]


def run(node: str, found: Sequence[SizeOf], known: Sequence[str], unit: Unit) -> Form:
    """Return the sizes of a node with their measurements and what is open in them."""
    return {"node": node, "sizes": [_size(each, known, unit) for each in found]}


def _size(size: SizeOf, known: Sequence[str], unit: Unit) -> Form:
    body = size.block.draft.body if size.block.draft else {}
    return {
        "size": size.size,
        "node": size.node.name,
        "block": size.block.name,
        "body_mm": {name: mm(parse_length(body[name], unit)) for name in known if name in body},
        "open_conflicts": [each.id for each in size.node.open_conflicts],
    }


def growth(node: str, found: RunGrowth) -> Form:
    """Return how each measure grows, and at which sizes it does not do so evenly."""
    names = [each.size for each in found.sizes]
    return {
        "node": node,
        "sizes": names,
        "beside": {"name": found.by, "body_mm": [mm(each) for each in found.body]},
        "measures": [
            {
                "name": each.measure,
                "lengths_mm": [mm(one) for one in each.lengths],
                "steps_mm": [mm(one) for one in each.steps],
                "uneven_at": [names[place] for place in each.uneven],
            }
            for each in found.measures
        ],
    }
