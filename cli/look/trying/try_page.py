"""The page on which a correction of a block or pattern is tried."""

from trueup.cli.book.figures import figure
from trueup.cli.book.templating import page
from trueup.cli.book.views import View
from trueup.cli.drawing.draft_picture import draft_picture
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.trying.became import TEMPLATES
from trueup.cli.look.trying.lines import told_draft
from trueup.lineage.files import graph
from trueup.lineage.files.garment_records import FitNote, GarmentRecord


def try_page(desk: Desk, node: str) -> View:
    """Return the page; raises NoSuchNode."""
    draft, source = told_draft(desk, node), desk.source
    content = page(
        "try.html",
        TEMPLATES,
        node=source.state.node(node),
        addresses=source.addresses,
        picture=figure(draft_picture(draft, node), 1),
        lines=[
            (piece.name, [f"{piece.name}.{edge.name}" for edge in piece.edges])
            for piece in draft.pieces
        ],
        notes=list(_notes(desk, node)),
    )
    return View(f"try/{node}", f"Try a correction of {node}", content)


def _notes(desk: Desk, node: str) -> list[tuple[GarmentRecord, FitNote]]:
    """Return the open fit notes that a correction of the node may mend."""
    state = desk.wardrobe.state
    return [
        (garment, note)
        for garment in state.garments.values()
        if garment.pattern in state.nodes
        and node in {garment.pattern, *graph.fit_above(state.nodes, garment.pattern)}
        for note in garment.open_notes
    ]
