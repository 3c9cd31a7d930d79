"""Sheets and cut lists as JSON, lengths in mm."""

from collections.abc import Sequence
from pathlib import Path

from trueup.cli.json.forms import Form, mm
from trueup.cli.sheet.anew.planning import PlannedAnew
from trueup.cli.sheet.cut_list import CutList
from trueup.cli.sheet.document import Composed, Page, Sheet
from trueup.cli.sheet.facts import PrintedVersion
from trueup.cli.sheet.naming.seam_letters import LetteredSeam
from trueup.cli.sheet.photo_frame import PrintedFrame
from trueup.lineage.drawings.photographs.frame.strips import REACH, SIDE, STRIPS


def sheet(printed: Sheet, found: Composed, file: Path) -> Form:
    """Return what was written."""
    facts, layout = printed.facts, found.layout
    return {
        "node": facts.node,
        "block": facts.block,
        "version": _version(facts.version),
        "file": str(file),
        "paper": layout.paper.name,
        "lines": [layer.value for layer in printed.layers],
        "pages": [_page(page) for page in found.pages],
        "pieces": [each.piece.name for each in layout.pieces],
        "seams": _seams(printed.seams),
        "open_conflicts": [each.id for each in facts.conflicts],
    }


def _seams(seams: Sequence[LetteredSeam]) -> list[Form]:
    """Return what each letter sews together."""
    return [
        {
            "letter": each.letter,
            "side": list(dict.fromkeys(map(str, each.side))),
            "mate": list(dict.fromkeys(map(str, each.mate))),
        }
        for each in seams
    ]


def _page(page: Page) -> Form:
    return {
        "number": page.number,
        "place": page.place,
        "name": page.name,
        "width_mm": mm(page.width),
        "height_mm": mm(page.height),
    }


def moved_pages(plan: PlannedAnew, pages: Sequence[Page], file: Path) -> Form:
    """Return which pages were printed anew and what they go with; `file` only where there are."""
    found, facts = plan.pages, plan.sheet.facts
    added = {page.place for page in found.layout.added}
    return {
        "node": facts.node,
        "block": facts.block,
        "version": _version(facts.version),
        "since": _version(plan.since),
        "since_cut": plan.paper_of.garment or None,
        "since_before": plan.paper_of.step or None,
        "file": str(file) if pages else None,
        "paper": plan.sheet.paper.name,
        "lines": [layer.value for layer in plan.sheet.layers],
        "pages": [{**_page(page), "added": page.place in added} for page in pages],
        "pages_of_the_earlier_sheet": found.of,
        "printed_anew": list(found.anew),
        "gone": list(found.gone),
        "seams": _seams(plan.sheet.seams),
        "laid_out_alike": plan.alike,
        "open_conflicts": [each.id for each in facts.conflicts],
    }


def _version(version: PrintedVersion) -> Form:
    return {
        "commit": version.commit,
        "date": version.date.isoformat(),
        "edited_by_hand": version.edited,
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
