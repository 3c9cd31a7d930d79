"""A picture of a drawing that is traced: its lines numbered, and what each is taken for."""

from trueup.cli.drawing.scene.layout import text_room
from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.drawing.scene.scene import BOLD, FINE, SEAM, Item, Line, Mark, Scene, Words
from trueup.geometry.lines.points import Motion, Point, unit
from trueup.lineage.drawings.proposing.drawing_file import LookedAt
from trueup.lineage.drawings.seen.found import FoundPiece, Inner, Notched, OutlineLine

_MARGIN = 12.0
_ASIDE = 2.4


def proposal_picture(looked: LookedAt, names: dict[int, str], title: str) -> Scene:
    """Return a picture of the lines of a drawing, numbered as they are proposed to be named."""
    boxes = [Rectangle.around(_points(piece)) for piece in looked.found.pieces]
    left, top = min(box.left for box in boxes), min(box.top for box in boxes)
    right, bottom = max(box.right for box in boxes), max(box.bottom for box in boxes)
    pen = max(right - left, 1.4 * (bottom - top), 200.0) / 1000
    letters = 13.0 * pen
    motion = Motion(shift=complex(_MARGIN + 3 * letters - left, _MARGIN + 5 * letters - top))
    items: list[Item] = [Words(title, complex(_MARGIN, _MARGIN + letters), letters, bold=True)]
    for piece, stated in zip(looked.found.pieces, looked.stated.pieces, strict=False):
        inside = piece.outline.representative_point()
        for line in (*piece.ring, *piece.inner):
            drawn = FINE if isinstance(line, Inner) else BOLD if isinstance(line, Notched) else SEAM
            if line.chain.length:
                items.append(Line((line.chain.moved(motion),), drawn, f"line-{line.number}"))
            items.append(_mark(line, complex(inside.x, inside.y), motion, letters))
        at = motion(complex(inside.x, inside.y))
        items.append(Words(stated.name, at, letters, bold=True, id=f"piece-{stated.name}"))
    width = right - left + 6 * letters
    down = bottom - top + 2 * _MARGIN + 9 * letters
    column, row = _MARGIN, down
    lines = [f"{number}  {name}" for number, name in sorted(names.items())]
    room = max([text_room(text, letters) for text in lines], default=0.0) + 2 * letters
    columns = max(1, int(width // room))
    for index, text in enumerate(lines):
        at = complex(column + room * (index % columns), row + 1.4 * letters * (index // columns))
        items.append(Words(text, at, letters * 0.8))
    rows = -(-len(lines) // columns)
    height = row + 1.4 * letters * rows + _MARGIN
    return Scene(max(width, room) + 2 * _MARGIN, height, title, tuple(items), pen)


def _points(piece: FoundPiece) -> list[Point]:
    lines = (*piece.ring, *piece.inner)
    return [point for line in lines for point in line.chain.flattened()]


def _mark(
    line: OutlineLine | Notched | Inner, inside: Point, motion: Motion, letters: float
) -> Mark:
    """Return the number of a line, beside its middle and away from the middle of the piece."""
    chain = line.chain
    if isinstance(line, Notched):
        place = (line.first + line.second) / 2
        away = unit(place - line.tip) if place != line.tip else 1j
    else:
        place = chain.point_at(chain.length / 2) if chain.length else chain.start
        normal = chain.normal_at(chain.length / 2) if chain.length else 1j
        away = normal if ((place - inside) / normal).real >= 0 else -normal
    at = place + away * _ASIDE * letters
    return Mark(line.number, motion(at), 0.9 * letters, motion(place), id=f"number-{line.number}")
