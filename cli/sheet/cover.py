"""The cover of a sheet, in blocks: test squares, page map, pieces, measures, conflicts, cautions.

Lengths in mm.
"""

from collections.abc import Iterator, Sequence

from trueup.cli.sheet.facts import Facts, allowance_words
from trueup.cli.sheet.ink.blocks import Block, gap, heading, paragraph, table, together
from trueup.cli.sheet.ink.drawn import Drawing, InkPen, InkWords, Stroke, rectangle
from trueup.cli.sheet.ink.letters import width_of
from trueup.cli.sheet.laying.sheets import Moved, Sheets
from trueup.cli.sheet.laying.tiles import OVERLAP
from trueup.cli.sheet.naming.seam_key import seam_key
from trueup.cli.sheet.naming.seam_letters import LetteredSeam
from trueup.cli.sheet.nested import SizeLine
from trueup.cli.sheet.page_map import page_map
from trueup.cli.sheet.piece_lines import MARK_PENS, Layer
from trueup.cli.wording.cautions import CHILDREN
from trueup.cli.wording.cutting import cut_words, note_of
from trueup.cli.wording.words import worded
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import format_length
from trueup.lineage.files.records import ConflictRecord

WIDTH = 190.0
"""The width of a column of the cover that lies beside whole pieces."""

FOR_CONFLICTS = 40.0
"""So much room takes a conflict or two, mm."""

SQUARE = 50.0
SQUARE_IN_INCHES = 2.0
INCH = 25.4

CAUTIONS = (
    "Blades, shears, needles, pins and hot irons cut and burn: cut away from yourself, keep them "
    "from children, switch the iron off.",
    CHILDREN,
    "The laws and standards of the place, and what a licensed practitioner says, come before "
    "anything on this sheet.",
)
"""Common practice, no source; they do not replace the rules of any place."""

_LINES = {
    InkPen.CUT: "cutting line",
    InkPen.SEAM: "seam line; without an allowance it lies on the cutting line",
    InkPen.DART: "dart, with a cross at its tip",
    InkPen.FOLD: "lay this edge on the fold of the cloth; do not cut it",
    InkPen.MEETS: "lay this edge to that of the other side and cut both as one; do not cut it",
    InkPen.GRAIN: "grainline: parallel to the selvedge",
}

_MARKS = {
    InkPen.MARK: "mark inside: a ring is a hole, a cross a button, a line with bars a buttonhole",
    InkPen.PLACED: "another piece is laid here, or a line of stitches runs",
    InkPen.TURNED: "turn the cloth along this line",
    InkPen.TURNED_UP: "here lies the cut edge of a hem once it is turned up",
}
"""What is told of marks inside pieces, where there are such."""

_LEVEL = "a level of the body, by its name"

_HOW_TO_JOIN = (
    f"Neighbouring pages show {OVERLAP:g} mm of the pattern alike. Cut one of the two along its "
    "frame and lay it on the other, so that the crosses with the same number lie on each other. "
    "A page is called by its column and row on the map; one on which no line would be is left out."
)


_BY_SIDE = (
    "Left and right are as the wearer has them. Lay the cloth in a single layer, its right side "
    "up, and each of these pieces on it with its print up or down, as it says."
)


def cover_blocks(
    facts: Facts,
    pieces: Sequence[Piece],
    layers: Sequence[Layer],
    moved: Moved | None = None,
    sheets: Sheets | None = None,
    sizes: Sequence[SizeLine] = (),
    width: float = WIDTH,
    *,
    seams: Sequence[LetteredSeam] = (),
    has_hems: bool = False,
    is_draft: bool = False,
) -> Iterator[Block]:
    """Yield the blocks of the cover in their order.

    One that is a draft, to see how much room it takes, has some for conflicts where none is open.
    """
    yield from _title(facts, width)
    yield from _conflicts(facts, width)
    if is_draft and not facts.conflicts:
        yield gap(FOR_CONFLICTS)
    yield from _scale(width)
    if sheets is not None:
        how = (heading("How the pages lie"), *paragraph(_HOW_TO_JOIN, width))
        yield together((*how, page_map(sheets, width)))
    yield from _pieces(pieces, sheets, width)
    yield from seam_key(seams, width)
    if sizes:
        yield heading("Sizes")
        for each in sizes:
            yield _sample((Stroke((1.5j, 22 + 1.5j), each.pen),), f"{each.name}: {each.body}")
    yield together(_legend(pieces, () if sizes else layers, moved, has_hems=has_hems))
    if moved is not None:
        yield from _moved(moved, width)
    if facts.measures:
        yield heading("Measures")
        yield from _measures(facts, pieces, width)
    yield heading("Take care")
    for caution in CAUTIONS:
        yield from paragraph(caution, width)


def column_blocks(
    facts: Facts, width: float, seams: Sequence[LetteredSeam] = ()
) -> Iterator[Block]:
    """Yield what stands beside the pieces on a page of no paper.

    That is title, conflicts, test square, and which lines are sewn together.
    """
    yield from _title(facts, width)
    yield from _conflicts(facts, width)
    yield gap(3.0)
    yield Block(SQUARE + 4.0, _square(0.0, SQUARE, "50 mm"))
    yield from seam_key(seams, width)


def _title(facts: Facts, width: float) -> Iterator[Block]:
    yield from paragraph(facts.title, width, 7.0, bold=True)
    lines = [f"block {facts.block}", f"version {facts.version}", *facts.fitted]
    lines += [f"fabric {facts.fabric}"] if facts.fabric else []
    for line in lines:
        yield from paragraph(line, width, 3.8)


def _conflicts(facts: Facts, width: float) -> Iterator[Block]:
    if not facts.conflicts:
        return
    yield heading("OPEN CONFLICTS")
    yield from paragraph("This pattern waits for decisions; cut from it at your own risk.", width)
    for conflict in facts.conflicts:
        yield gap(1.0)
        yield from paragraph(_conflict(conflict, facts), width, indent=4.0)


def _conflict(conflict: ConflictRecord, facts: Facts) -> str:
    says = worded(conflict.says, facts.unit)
    place = ".".join(part for part in (conflict.piece, conflict.edge) if part)
    arose = "" if conflict.arose_at == facts.node else f"inherited from {conflict.arose_at}, "
    return f"{conflict.id} ({arose}{place}): {says}" if place or arose else says


def _scale(width: float) -> Iterator[Block]:
    yield heading("Print at 100 %")
    yield from paragraph(
        "Print without fitting to the page, then measure both squares: each side must come out "
        "exactly. If it does not, nothing else on these pages is true to size.",
        width,
    )
    inches = SQUARE_IN_INCHES * INCH
    squares = _square(0.0, SQUARE, "50 mm") + _square(SQUARE + 20.0, inches, "2 in")
    yield Block(inches + 4.0, squares)


def _square(left: float, side: float, says: str) -> Drawing:
    words = InkWords(says, complex(left + 3.0, 8.0), 4.0, bold=True)
    return Drawing((rectangle(left, 2.0, side, side, InkPen.TEST),), (words,))


def _pieces(pieces: Sequence[Piece], sheets: Sheets | None, width: float) -> Iterator[Block]:
    yield heading("Pieces")
    rows = []
    for n, piece in enumerate(pieces, start=1):
        row = [f"{n} of {len(pieces)}", piece.name, cut_words(piece), allowance_words(piece)]
        if sheets is not None:
            row.append(f"pages {spans(sheets.pages_of(piece.name))}")
        rows.append(row)
    yield from table(rows, width)
    for piece in pieces:
        if note := note_of(piece):
            yield from paragraph(f"{piece.name}: {note}", width)
    if any(piece.worn for piece in pieces):
        yield from paragraph(_BY_SIDE, width)


def spans(numbers: Sequence[int]) -> str:
    """Return numbers in words, runs of them drawn together.

    >>> spans((2, 3, 4, 7))
    '2-4, 7'
    """
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)


def _legend(
    pieces: Sequence[Piece], layers: Sequence[Layer], moved: Moved | None, *, has_hems: bool
) -> Iterator[Block]:
    yield heading("Lines")
    shown = dict(_LINES)
    if Layer.CUTTING not in layers:
        del shown[InkPen.CUT]
    if Layer.SEAM not in layers:
        del shown[InkPen.SEAM]
    if not any(piece.worn for piece in pieces):
        del shown[InkPen.MEETS]
    if any(level.along is None for piece in pieces for level in piece.levels):
        shown[InkPen.LEVEL] = _LEVEL
    drawn = {MARK_PENS.get(mark.purpose, InkPen.MARK) for p in pieces for mark in p.marks}
    if has_hems and Layer.SEAM in layers:
        drawn |= {InkPen.TURNED, InkPen.TURNED_UP}
    for pen in sorted(drawn & {*_MARKS}, key=[*_MARKS].index):
        shown[pen] = _MARKS[pen]
    for pen, says in shown.items():
        yield _sample((Stroke((1.5j, 22 + 1.5j), pen),), says)
    if moved is not None:
        hatch = tuple(
            Stroke((complex(x, 3.5), complex(x + 3.5, 0.0)), InkPen.CHANGED)
            for x in (0.0, 2.5, 5.0, 7.5, 10.0, 12.5, 15.0, 17.5)
        )
        yield _sample(hatch, f"moved since version {moved.since}: redraw only here")


def _sample(strokes: tuple[Stroke, ...], says: str) -> Block:
    return Block(5.0, Drawing(strokes, (InkWords(says, complex(27.0, 2.7), 3.2),)))


def _moved(moved: Moved, width: float) -> Iterator[Block]:
    yield heading(f"Moved since version {moved.since}")
    lines = [
        *(f"{name}: a new piece" for name in moved.new),
        *(f"{name}: the piece is gone" for name in moved.gone),
        *(
            f"{each.edge}: by up to {each.moved:.1f} mm"
            for each in moved.difference.edges
            if each.moved is not None
        ),
        *(f"dart {each.dart}" for each in moved.difference.darts),
        *moved.difference.others,
    ]
    for line in lines or ["Nothing."]:
        yield from paragraph(line, width)


def _measures(facts: Facts, pieces: Sequence[Piece], width: float) -> Iterator[Block]:
    """Yield the lengths of the edges, widths at the levels and eases of the seams, in columns."""
    edges = {f"{piece.name}.{edge}" for piece in pieces for edge in piece.edge_names}
    shown = [
        (name, format_length(mm, facts.unit))
        for name, mm in facts.measures.items()
        if name in edges or name.endswith(("-width", ".ease", "-ease", ".cap-height"))
    ]
    size = 3.0
    widest = max((width_of(name, size) + width_of(mm, size) for name, mm in shown), default=1.0)
    count = max(1, int(width / (widest + 4 * size)))
    rows = -(-len(shown) // count)
    for row in range(rows):
        words = []
        for column, (name, amount) in enumerate(shown[row::rows]):
            left = width / count * column
            right = left + width / count - 2 * size
            words.append(InkWords(name, complex(left, size), size))
            words.append(InkWords(amount, complex(right - width_of(amount, size), size), size))
        yield Block(size * 1.4, Drawing((), tuple(words)))
