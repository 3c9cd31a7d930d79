"""The pages on which a correction of a block or pattern is tried, or a change of its looks."""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.cli.book.figures import figure_of_pieces
from trueup.cli.book.templating import page
from trueup.cli.book.views import View
from trueup.cli.drawing.draft_picture import pieces_of_draft
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.trying.became import TEMPLATES
from trueup.cli.look.trying.lines import told_draft
from trueup.lineage.files import graph
from trueup.lineage.files.garment_records import FitNote, GarmentRecord


@dataclass(frozen=True)
class _Words:
    """What a page says of what is tried on it; `node` stands where its name goes."""

    title: str
    record: str
    lead: str


_CORRECTION = _Words(
    "Try a correction of {node}",
    "Record this correction",
    "Nothing is written until you record it.",
)
_STYLE = _Words(
    "Try a style change of {node}",
    "Record this style change",
    "For looks, not for fit: what derives from it takes it over. Nothing is written until you "
    "record it.",
)


def try_page(desk: Desk, node: str) -> View:
    """Return the page of a correction; raises NoSuchNode."""
    return _page(desk, node, f"try/{node}", _CORRECTION, _notes(desk, node))


def style_page(desk: Desk, node: str) -> View:
    """Return the page of a style change; raises NoSuchNode."""
    return _page(desk, node, f"style/{node}", _STYLE, None)


def _page(
    desk: Desk,
    node: str,
    address: str,
    words: _Words,
    notes: Sequence[tuple[GarmentRecord, FitNote]] | None,
) -> View:
    draft, source = told_draft(desk, node), desk.source
    title = words.title.format(node=node)
    content = page(
        "try.html",
        TEMPLATES,
        node=source.state.node(node),
        addresses=source.addresses,
        unit=source.unit,
        address=address,
        title=title,
        words=words,
        picture=figure_of_pieces(pieces_of_draft(draft, node, small=True), 1, node),
        lines=[
            (piece.name, [f"{piece.name}.{edge.name}" for edge in piece.edges])
            for piece in draft.pieces
        ],
        is_style=notes is None,
        notes=notes or (),
    )
    return View(address, title, content)


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
