"""A draft printed on each paper, and its pages read back from the PDF by pdfplumber."""

import datetime
from dataclasses import replace
from functools import lru_cache

from tests.builders import block
from tests.cli.sheet.pdf import ReadPage, read
from trueup.cli.sheet.document import Sheet, composed, written
from trueup.cli.sheet.facts import Facts, PrintedVersion
from trueup.cli.sheet.laying.layout import Layout, to_print
from trueup.cli.sheet.laying.paper import PAPERS, Paper, paper_named
from trueup.cli.sheet.naming.seam_letters import lettered
from trueup.cli.sheet.piece_lines import Layer
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.files.records import ConflictKind, ConflictRecord

A4, LETTER, A3, A0 = PAPERS
ROLL = paper_named("91.4cm", Unit.CENTIMETRE)
BOTH = (Layer.SEAM, Layer.CUTTING)
PENCIL = 0.1
CONFLICTS = tuple(
    ConflictRecord(f"seam-{n}", ConflictKind.SEAM, at, "sleeve", "cap", "seam", "the ease is short")
    for n, at in enumerate(("blouse", "village"))
)


@lru_cache(maxsize=1)
def draft() -> Draft:
    """Return a block with allowances, its front on the fold, and a dart inside its back."""
    front, back, sleeve = (
        allowed(piece, {name: 15.0 if name != "hem" else 40.0 for name in piece.edge_names})
        for piece in block().pieces
    )
    middle = complex(60, back.level("bust").y)
    fish = InnerDart("fish", middle - 50j, middle + 50j, middle - 8, middle + 8)
    return block().with_pieces(front, replace(back, inner_darts=(fish,)), sleeve)


def sheet(
    paper: Paper = A4, layers: tuple[Layer, ...] = BOTH, open_conflicts: bool = False
) -> Sheet:
    facts = Facts(
        "blouse",
        "pattern",
        "village",
        PrintedVersion("1234567890abcdef", datetime.date(2025, 3, 31)),
        Unit.CENTIMETRE,
        measures(draft()),
        CONFLICTS if open_conflicts else (),
        "linen",
    )
    return Sheet(facts, to_print(draft()), paper, layers, seams=lettered(draft()))


@lru_cache(maxsize=16)
def printed(
    paper: Paper = A4, layers: tuple[Layer, ...] = BOTH, open_conflicts: bool = False
) -> tuple[bytes, Layout]:
    wanted = sheet(paper, layers, open_conflicts)
    found = composed(wanted)
    return written(wanted.facts, found.pages), found.layout


@lru_cache(maxsize=16)
def pages(
    paper: Paper = A4, layers: tuple[Layer, ...] = BOTH, open_conflicts: bool = False
) -> list[ReadPage]:
    return read(printed(paper, layers, open_conflicts)[0])
