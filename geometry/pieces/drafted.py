"""What a piece was drafted to: the line it is sewn to, and the amounts it was drawn by.

A piece that is drafted to a line follows it: where the line changes, the piece is drawn anew
(`geometry/following`). Lengths are mm; lines are written `piece.edge`.
"""

from collections.abc import Callable

from msgspec import Struct, structs


class BandTo(Struct, frozen=True, tag="band"):
    """A band along one or several lines that follow one another: a stand, a cuff, a waistband.

    It is `height` wide; after the first of several lines it bends, and its end comes up by `rise`.
    It goes on straight by an `extension` beyond the line, and holds `gathers` of the line gathered.
    """

    piece: str
    lines: tuple[str, ...]
    height: float
    rise: float = 0.0
    extension: float = 0.0
    gathers: float = 0.0
    fold: bool = False


class CollarTo(Struct, frozen=True, tag="collar"):
    """A collar along one or several lines that follow one another, `height` wide at its centre.

    After the first of several lines it bends, and its end comes up by `rise`. The last of the line
    stays `free` of it. Its front edge is as long as the `point`, which lies by a `lean` further
    forward than the end of the line.
    """

    piece: str
    lines: tuple[str, ...]
    height: float
    point: float
    lean: float = 0.0
    rise: float = 0.0
    free: float = 0.0
    fold: bool = False


class FlatCollarTo(Struct, frozen=True, tag="flat-collar"):
    """A collar `width` wide along two lines: the neck of the back from its centre and the front's.

    The shoulders beside them lie over one another by an `overlap` at their ends.

    Its neck edge ends lower than that of the garment by `lowered`. Its front edge is as long as the
    `point`, which lies by a `lean` further forward; the corner is drawn round over `rounded`.
    """

    piece: str
    lines: tuple[str, ...]
    width: float
    overlap: float
    point: float
    lean: float = 0.0
    lowered: float = 0.0
    rounded: float = 0.0
    fold: bool = False


class HoodTo(Struct, frozen=True, tag="hood"):
    """Half a hood along one or several lines that follow one another from the centre back.

    Its face edge is as long as it is high; its neck edge ends lower than it begins by a `drop`, and
    has a dart that takes in so much, if it has one. The last of the line stays `free` of it.
    """

    piece: str
    lines: tuple[str, ...]
    height: float
    depth: float
    drop: float = 0.0
    dart: float = 0.0
    dart_length: float = 0.0
    free: float = 0.0


class CuffTo(Struct, frozen=True, tag="cuff"):
    """A straight band along one or several lines that follow one another, with laps beyond it.

    It is `width` wide, or twice that where it is doubled, goes on by an `overlap` beyond the end of
    the line and by an `underlap` before its beginning, and holds `gathers` of the line gathered.
    """

    piece: str
    lines: tuple[str, ...]
    width: float
    overlap: float = 0.0
    underlap: float = 0.0
    gathers: float = 0.0
    doubled: bool = False
    fold: bool = False


class BindingTo(Struct, frozen=True, tag="binding"):
    """A bias strip along one or several lines that follow one another, `width` wide as it shows.

    It is `shorter` than the line by an amount, joined where it is longer than the `longest` strip
    there can be (nought for any), and its ends are `slanted` along the thread or square.
    """

    piece: str
    lines: tuple[str, ...]
    width: float
    shorter: float = 0.0
    longest: float = 0.0
    slanted: bool = False


class FacingTo(Struct, frozen=True, tag="facing"):
    """A facing of one line: the piece itself along it, darts closed, `width` wide."""

    piece: str
    line: str
    width: float


class LiningTo(Struct, frozen=True, tag="lining"):
    """A lining of a piece: its outline, less its `facings`, which are named by their pieces.

    Its hem is `shorter` by an amount, and its centre lies further out by that of a `pleat`.
    """

    piece: str
    of: str
    pleat: float = 0.0
    shorter: float = 0.0
    facings: tuple[str, ...] = ()


SewnTo = BandTo | CollarTo | FlatCollarTo | HoodTo | CuffTo | BindingTo
"""Pieces that are sewn to a line of one or several edges."""

DraftedTo = SewnTo | FacingTo | LiningTo


def drafted_as(to: DraftedTo, named: Callable[[str], str]) -> DraftedTo:
    """Return what a piece was drafted to with all its pieces, and their lines, named otherwise."""
    piece = named(to.piece)
    match to:
        case FacingTo():
            return structs.replace(to, piece=piece, line=named(to.line))
        case LiningTo():
            facings = tuple(map(named, to.facings))
            return structs.replace(to, piece=piece, of=named(to.of), facings=facings)
        case _:
            return structs.replace(to, piece=piece, lines=tuple(map(named, to.lines)))
