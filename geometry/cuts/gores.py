"""Cut a piece into gores: lines from an upper edge to the hem that part the hem evenly.

Lengths along an edge are mm as it is sewn, from its outer corner: that away from the centre.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from trueup.geometry.cuts.cutting import StyleLine, cut_in_two, with_cut
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import unit
from trueup.geometry.pieces.closed_line import reshaped, smoothed_at
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import unsewn
from trueup.geometry.redrawing.hems.let_out_below import HEM, let_out_below
from trueup.geometry.redrawing.turning.apart import strip_of_edge
from trueup.geometry.redrawing.turning.new_dart import with_dart_opened
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH

_CENTRE, _HIP = "centre", "hip"
_ROUNDED = 15.0
_TRIES = 8
_GRAIN_FROM, _GRAIN_TO = 0.15, 0.85
"""From where to where down the middle of a gore its grainline runs."""


@dataclass(frozen=True)
class Gores:
    """How a piece is cut into gores, which are named from the centre on.

    A dart on the upper edge that opens within `near` mm of a line is brought into it. With a
    `flare` each side of a line is let out so far at the hem, beginning `below` mm under the upper
    edge; at the hip where that is not said.
    """

    upper: str
    names: tuple[str, ...]
    line: str
    near: float
    flare: float = 0.0
    below: float | None = None


@dataclass(frozen=True)
class _Line:
    """A line to be cut: how far along it begins and ends, and the dart it runs through, if any."""

    name: str
    at: float
    ends_at: float
    dart: str = ""


def in_gores(draft: Draft, piece: Piece, gores: Gores) -> Draft:
    """Return a draft with a piece of it in gores, the first of them at the centre.

    The hem of each is as wide, but for one on the fold, which is half of one. Raises NoSuchName,
    DoesNotFit where the upper edge meets the hem, a line crosses a dart, or a flare does not fit.
    """
    _require_across(piece, gores.upper)
    outer = _outer(piece, gores.upper)
    reach = _reach(piece, gores) if gores.flare else 0.0
    lines = _lines(piece, gores)
    rest, lines = _with_darts_in_line(piece, gores, lines, outer)
    draft = draft.with_pieces(rest)
    for index, line in enumerate(lines):
        last = index == len(lines) - 1
        left = gores.names[-1] if last else f"{piece.name}-from-{line.name}"
        draft = _cut_off(draft, rest, gores.upper, line, outer, (gores.names[index], left))
        rest = draft.piece(left)
    draft = draft.with_pieces(*(_grained(draft.piece(name), gores.upper) for name in gores.names))
    for index, line in enumerate(lines if gores.flare else ()):
        for name in gores.names[index : index + 2]:
            flared = let_out_below(draft.piece(name), line.name, reach, gores.flare)
            draft = draft.with_pieces(flared)
    return draft


def _require_across(piece: Piece, upper: str) -> None:
    for name in (upper, HEM):
        piece.edge(name)
        if name == piece.fold:
            raise DoesNotFit(said("on-fold"), said("name-another-edge"), edge=name)
    if upper in {HEM, *(each.name for each in piece.neighbours(HEM))}:
        raise DoesNotFit(said("gores-to-hem", edge=upper), said("another-edge"), edge=upper)


def _outer(piece: Piece, upper: str) -> tuple[str, str]:
    """Return the corners of the upper edge and of the hem that lie away from the centre."""
    top, hem = piece.edge(upper), piece.edge(HEM)
    held = next((e for e in (piece.fold, _CENTRE) if e in piece.edge_names and e != upper), None)
    # In ring order the edges between the upper one and the hem lie on one side of the gores.
    if held is not None and strip_of_edge(piece, upper, HEM, held) == 1:
        return top.starts_at, hem.ends_at
    return top.ends_at, hem.starts_at


def _lines(piece: Piece, gores: Gores) -> list[_Line]:
    """Return the lines, that next to the centre first."""
    count, first = len(gores.names), 0.5 if piece.fold else 1.0
    top, hem = piece.edge(gores.upper).length, piece.edge(HEM).length
    shares = [1 - (first + k) / (first + count - 1) for k in range(count - 1)]
    return [
        _Line(f"{gores.line}-{k}", share * top, share * hem) for k, share in enumerate(shares, 1)
    ]


def _reach(piece: Piece, gores: Gores) -> float:
    """Return how far above the hem the flare begins, mm; the same in every line."""
    top, hem = piece.edge(gores.upper), piece.edge(HEM)
    upper = (top.start.imag + top.end.imag) / 2
    below = gores.below
    if below is None:
        if not piece.has_level(_HIP):
            reason = said("no-such-level", piece=piece.name, level=_HIP)
            raise DoesNotFit(reason, said("give-below"), edge=HEM)
        below = piece.level(_HIP).y - upper
    reach = (hem.start.imag + hem.end.imag) / 2 - upper - below
    if reach < gores.flare:
        reason = said("flares-too-fast", reach=max(reach, 0.0))
        raise DoesNotFit(reason, said("higher-place"), edge=HEM)
    return reach


# --- darts ----------------------------------------------------------------------------------------


def _with_darts_in_line(
    piece: Piece, gores: Gores, lines: list[_Line], outer: tuple[str, str]
) -> tuple[Piece, list[_Line]]:
    """Return a piece with the darts of its upper edge brought into the lines they open near to.

    The darts of one line become one, which takes in what they did and is as long as the longest.
    The edge is trued across it, and keeps its ends.
    """
    near: dict[str, list[Mouth]] = {line.name: [] for line in lines}
    sewn = piece.edge(gores.upper).length
    for mouth, at in _darts(piece.edge(gores.upper), outer[0]):
        nearest = min(lines, key=lambda line: abs(line.at - at))
        if abs(nearest.at - at) <= gores.near:
            near[nearest.name].append(mouth)
    for mouth in (each for mouths in near.values() for each in mouths):
        piece = piece.with_edges(_evened(piece.edge(gores.upper), mouth.dart.name))
    # Opened from the outer corner on, so that what lies before a place is sewn already.
    length = sewn + sum(mouth.intake for mouths in near.values() for mouth in mouths)
    for line in reversed(lines):
        if near[line.name]:
            length -= sum(mouth.intake for mouth in near[line.name])
            piece = _opened(piece, gores.upper, line, near[line.name], outer, length)
    darts = {name: mouths[0].dart.name for name, mouths in near.items() if mouths}
    return piece, [replace(line, dart=darts.get(line.name, "")) for line in lines]


def _darts(edge: Edge, corner: str) -> Iterator[tuple[Mouth, float]]:
    """Yield the darts of an edge, and how far along it as sewn from a corner each opens."""
    along = 0.0
    for mouth, part in zip(edge.mouths, edge.parts, strict=False):
        along += part.length
        yield mouth, along if corner == edge.starts_at else edge.length - along


def _evened(edge: Edge, dart: str) -> Edge:
    """Return an edge with a dart left unsewn, and drawn fair there as far as it goes alike."""
    mouth = next(each for each in edge.mouths if each.dart.name == dart)
    before = sum(part.length for part in edge.parts[: edge.darts.index(mouth.dart) + 1])

    def fair(line: Chain) -> Chain:
        middle = before + mouth.intake / 2
        return smoothed_at(line, middle, min(middle, line.length - middle))

    return reshaped(unsewn(edge, mouth), fair)


def _opened(
    piece: Piece,
    upper: str,
    line: _Line,
    mouths: list[Mouth],
    outer: tuple[str, str],
    length: float,
) -> Piece:
    """Return a piece with a dart in a line that takes in what some others did.

    It takes in so much that the edge is as long as wanted, mm, as sewn: drawn fair where the others
    were, and trued where this one is, the edge would differ by a little.
    """
    edge, hem = piece.edge(upper), piece.edge(HEM)
    intake = sum(mouth.intake for mouth in mouths)
    deep = max(abs((mouth.first + mouth.second) / 2 - mouth.tip) for mouth in mouths)
    foot = _point(hem, outer[1], line.ends_at)
    opened = piece
    for _ in range(_TRIES):
        at = Position(outer[0], distance=line.at + intake / 2).along(edge)
        top = edge.point_at(at)
        aims = top + deep * unit(foot - top)
        opened = with_dart_opened(piece, mouths[0].dart.name, upper, at, aims, intake)
        more = opened.edge(upper).length - length
        if abs(more) < SAME_LENGTH:
            break
        intake += more
    return opened


def _point(edge: Edge, corner: str, distance: float) -> complex:
    return edge.point_at(Position(corner, distance=distance).along(edge))


# --- cutting --------------------------------------------------------------------------------------


def _cut_off(
    draft: Draft,
    rest: Piece,
    upper: str,
    line: _Line,
    outer: tuple[str, str],
    names: tuple[str, str],
) -> Draft:
    """Return a draft with a gore cut off what is left of a piece; `names` has that of it first."""
    if line.name in (*rest.edge_names, *rest.dart_names):
        raise DoesNotFit(said("name-is-taken", name=line.name), said("another-name"))
    for name in names:
        if draft.has_piece(name):
            raise DoesNotFit(said("name-is-taken", name=name), said("another-name"))
    at = None if line.dart else Position(outer[0], distance=line.at)
    ends_at = Position(outer[1], distance=line.ends_at)
    through = (line.dart,) if line.dart else ()
    style = StyleLine(line.name, upper, HEM, at, ends_at, through, _ROUNDED)
    cut, parts = cut_in_two(rest, style)
    hem = parts[0].edge(HEM)
    outer_first = outer[1] in (hem.starts_at, hem.ends_at)
    return with_cut(draft, cut, parts, names[::-1] if outer_first else names)


def _grained(gore: Piece, upper: str) -> Piece:
    """Return a gore whose grainline runs down its middle; that beside a centre keeps its own."""
    top, hem = gore.edge(upper), gore.edge(HEM)
    if gore.grainline is None or {gore.fold, _CENTRE} & {*gore.edge_names}:
        return gore
    start, end = top.point_at(top.length / 2), hem.point_at(hem.length / 2)
    down = end - start
    grain = Grainline(start + down * _GRAIN_FROM, start + down * _GRAIN_TO)
    return replace(gore, grainline=grain)
