"""The pages of all garments, and of the causes behind what was seen on them."""

from collections.abc import Iterator

from markupsafe import Markup

from trueup.cli.book.lines import html_lines
from trueup.cli.book.pages.worn.causes_told import cause_told
from trueup.cli.book.source import BookSource
from trueup.cli.book.templating import page
from trueup.cli.render.bodies import all_measured_lines
from trueup.cli.render.garments.faults import tally
from trueup.cli.render.garments.seen import note_in_short
from trueup.cli.render.table import PlainTable
from trueup.cli.wording.words import worded
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.garments.since import Fate, since

_HEADS = ("garment", "cut from", "worn by", "cut on", "status", "its pattern", "not resolved")
_FATES = {
    Fate.SAME: "as it was",
    Fate.DELETED: "deleted since",
    Fate.UNREADABLE: "cannot be read",
}


def garments_page(source: BookSource) -> Markup:
    """Return the page that lists all garments, and what was measured of their wearers."""
    rows = [tuple(_cells(source, each)) for each in source.state.garments.values()]
    measured = html_lines(all_measured_lines(source.state), source.addresses)
    listed = html_lines([PlainTable(_HEADS, rows)], source.addresses) if rows else ""
    return page("garments.html", lines=listed, measured=measured)


def _cells(source: BookSource, garment: GarmentRecord) -> Iterator[str]:
    became = since(source.wardrobe, garment)
    how = "corrected since" if became.corrections or became.blocks else "changed since"
    yield garment.name
    yield garment.pattern
    yield garment.wearer or "-"
    yield garment.cut_on.isoformat()
    yield garment.status.value
    yield _FATES.get(became.fate, how)
    yield "\n".join(note_in_short(each, source.unit) for each in garment.open_notes) or "-"


def faults_page(source: BookSource) -> Markup:
    """Return the page of the causes behind all open fit notes."""
    found = source.causes
    groups = (
        ("common", "Seen on more than one garment", found.common),
        ("single", "Seen on one garment", found.single),
    )
    return page(
        "faults.html",
        addresses=source.addresses,
        tally=tally(found, with_single=True),
        groups=[
            (name, head, [cause_told(source, each) for each in causes])
            for name, head, causes in groups
            if causes
        ],
        unplaced=[
            (each.seen.garment.name, note_in_short(each.seen.note, source.unit), says)
            for each in found.unplaced
            for says in [worded(each.says, source.unit)]
        ],
    )
