"""How an old pattern is laid under a new one to compare them: by centre, by corner or by edge."""

from dataclasses import dataclass, replace

from trueup.geometry.comparing.laying import moved
from trueup.geometry.errors import BadParameter, NoSuchName
from trueup.geometry.lines.points import Motion, Point, turn_between
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT

CENTRE = "centre"

_CENTRE_CORNER = "neck-centre"
_LEVELS = ("bust", "biceps")


@dataclass(frozen=True)
class Alignment:
    """What is laid on what.

    By default every piece lies with its centre line on the centre line and its bust level on the
    bust level, a sleeve with its grainline and biceps level. `piece` with a `corner` or an `edge`
    says that this piece lies with that corner on itself, or with that edge: the middle between its
    two ends on the middle, and the line through them along the line.
    """

    piece: str = ""
    corner: str = ""
    edge: str = ""

    @property
    def words(self) -> str:
        """Return in words what lies on what."""
        if self.piece:
            rest = "the other pieces by centre line and bust level"
            return f"{self.piece}.{self.corner or self.edge} laid on itself, {rest}"
        return "centre line on centre line, bust level on bust level"


BY_CENTRE = Alignment()


def alignment(text: str, old: Draft, new: Draft) -> Alignment:
    """Return the alignment a maker named: `centre`, a corner or an edge as `piece.name`.

    Raises NoSuchName where one of the drafts does not have it, with what it has.
    """
    if text == CENTRE:
        return BY_CENTRE
    piece, _, name = text.partition(".")
    for draft in (old, new):
        draft.piece(piece)
    both = (old.piece(piece), new.piece(piece))
    if all(name in each.edge_names for each in both):
        return Alignment(piece, edge=name)
    for each in both:
        corners = tuple(edge.starts_at for edge in each.edges)
        if name not in corners:
            raise NoSuchName("corner or edge", name, piece, (*corners, *each.edge_names))
    return Alignment(piece, corner=name)


def laid_under(old: Draft, new: Draft, by: Alignment) -> Draft:
    """Return the old draft with each piece that both have laid where the new one lies."""
    pieces = [
        _laid(piece, new.piece(piece.name), by) if new.has_piece(piece.name) else piece
        for piece in old.pieces
    ]
    return replace(old, pieces=tuple(pieces))


def _laid(old: Piece, new: Piece, by: Alignment) -> Piece:
    motion = _motion(old, new, by)
    # Not moved by rounding noise, so that what is the same stays the same object.
    if abs(motion.shift) < SAME_POINT and abs(motion.rotation - 1) * 1000 < SAME_POINT:
        return old
    return moved(old, motion)


def _motion(old: Piece, new: Piece, by: Alignment) -> Motion:
    if by.piece != new.name:
        return Motion(shift=_shift(old, new))
    if by.corner:
        return Motion(shift=new.corner(by.corner) - old.corner(by.corner))
    lines = old.edge(by.edge), new.edge(by.edge)
    chords = [line.end - line.start for line in lines]
    middles = [(line.start + line.end) / 2 for line in lines]
    if min(abs(chord) for chord in chords) < SAME_POINT:
        raise BadParameter("align", f"{by.piece}.{by.edge}", said("edge-ends-where-it-starts"))
    turn = Motion.turn(middles[0], turn_between(chords[0], chords[1]))
    return Motion(shift=middles[1] - middles[0]).after(turn)


def _shift(old: Piece, new: Piece) -> complex:
    """Return the shift that lays centre on centre and level on level; none where one lacks."""
    places = [(_across(piece), _down(piece)) for piece in (old, new)]
    (across, down), (to_across, to_down) = places
    return complex(
        0.0 if across is None or to_across is None else to_across - across,
        0.0 if down is None or to_down is None else to_down - down,
    )


def _across(piece: Piece) -> float | None:
    for edge in piece.edges:
        if edge.starts_at == _CENTRE_CORNER:
            return edge.start.real
    return piece.grainline.start.real if piece.grainline else None


def _down(piece: Piece) -> float | None:
    for name in _LEVELS:
        if piece.has_level(name):
            level = piece.level(name)
            return _middle(piece, level.along).imag if level.along else level.y
    return None


def _middle(piece: Piece, edge: str) -> Point:
    line = piece.edge(edge)
    return (line.start + line.end) / 2
