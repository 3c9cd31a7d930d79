"""The seams of a pattern, walked, as a JSON document: lengths in mm, for programs to read."""

from collections.abc import Iterable

from trueup.cli.json.forms import Form, mm
from trueup.geometry.measuring.walk import SectionWalk, walk
from trueup.geometry.pieces.draft import Draft


def walks(node: str, draft: Draft, names: Iterable[str]) -> Form:
    """Return the named seams of a node, walked."""
    walked = [walk(draft, draft.seam(name)) for name in names]
    return {
        "node": node,
        "seams": [
            {
                "name": each.seam.name,
                "side": [str(run) for run in each.seam.side],
                "mate": [str(run) for run in each.seam.mate],
                "side_mm": mm(each.side),
                "mate_mm": mm(each.mate),
                "ease_mm": mm(each.ease),
                "allowed_mm": [mm(each.seam.allowed.low), mm(each.seam.allowed.high)],
                "tolerance_mm": mm(each.seam.allowed.tolerance),
                "matches": each.matches,
                "within_tolerance": each.seam.allowed.within_tolerance(each.ease),
                "sections": [_section(part) for part in each.sections],
            }
            for each in walked
        ],
    }


def _section(part: SectionWalk) -> Form:
    allowed = part.section.allowed
    return {
        "name": part.section.name,
        "side_mm": mm(part.side),
        "mate_mm": mm(part.mate),
        "ease_mm": mm(part.ease),
        "allowed_mm": [mm(allowed.low), mm(allowed.high)],
        "tolerance_mm": mm(allowed.tolerance),
        "matches": part.matches,
        "within_tolerance": allowed.within_tolerance(part.ease),
    }
