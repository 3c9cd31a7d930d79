"""Sheets and cut lists as JSON, lengths in mm."""

from pathlib import Path

from trueup.cli.json.forms import Form, mm
from trueup.cli.sheet.cut_list import CutList
from trueup.cli.sheet.document import Composed, Sheet
from trueup.cli.sheet.photo_frame import PrintedFrame
from trueup.lineage.drawings.photographs.frame.strips import REACH, SIDE, STRIPS


def sheet(printed: Sheet, found: Composed, file: Path) -> Form:
    """Return what was written."""
    facts, layout = printed.facts, found.layout
    return {
        "node": facts.node,
        "block": facts.block,
        "version": {
            "commit": facts.version.commit,
            "date": facts.version.date.isoformat(),
            "edited_by_hand": facts.version.edited,
        },
        "file": str(file),
        "paper": layout.paper.name,
        "lines": [layer.value for layer in printed.layers],
        "pages": [
            {"name": page.name, "width_mm": mm(page.width), "height_mm": mm(page.height)}
            for page in found.pages
        ],
        "pieces": [each.piece.name for each in layout.pieces],
        "open_conflicts": [each.id for each in facts.conflicts],
    }


def frame(found: PrintedFrame, file: Path) -> Form:
    """Return what was written."""
    return {
        "file": str(file),
        "paper": found.paper.name,
        "pages": found.pages,
        "strips": STRIPS,
        "markers": "OpenCV DICT_5X5_100",
        "marker_mm": mm(SIDE),
        "strip_reach_mm": mm(REACH),
    }


def cut_list(node: str, found: CutList) -> Form:
    """Return the pieces as they are cut, areas in cm² and m², and the cloth they take."""
    return {
        "node": node,
        "pieces": [
            {
                "name": piece.name,
                "cut": piece.count,
                "says": piece.says,
                "area_cm2": round(piece.area / 100, 2),
                "whole_area_cm2": round(piece.whole_area / 100, 2),
                "whole_area_m2": round(piece.whole_area / 1e6, 4),
                "allowances": piece.allowances,
            }
            for piece in found.pieces
        ],
        "whole_area_cm2": round(found.whole_area / 100, 2),
        "whole_area_m2": round(found.whole_area / 1e6, 4),
        "cloth_width_mm": mm(found.cloth_width),
        "estimates": [
            {"layers": each.layers, "length_mm": mm(each.length), "says": each.says}
            for each in found.estimates
        ],
    }
