"""Bring a change of the whole to its parts: their outlines, and the line they are sewn along."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from itertools import takewhile

from trueup.geometry.cuts.halves import halves
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Motion, Point, cross, dot, unit
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.marking.on_parts import marks_followed, marks_of_part
from trueup.geometry.pieces.beyond.marks import is_beyond
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.cut_corner import CutCorner
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.move_corner import meeting, start_carried, start_cut, taper
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT

_ON_IT = 100 * SAME_POINT
_OF_THE_WAY = 0.7
"""How much of the way across a part its grainline takes."""


def parts_of(
    cut: Cut, lines: tuple[Chain, Chain], turns: Mapping[str, Point]
) -> tuple[Piece, Piece]:
    """Return the two parts of a piece cut along a line, as each of them has it.

    The lines run from where the cut begins to where it ends, and are notched beside some points,
    which are given with the names of the notches.
    """
    first, second = halves(cut.whole, cut)
    one = _part(cut, cut.whole, cut.parts[0], (*first, _seam_edge(cut, lines[0], backwards=True)))
    other = _part(cut, cut.whole, cut.parts[1], (*second, _seam_edge(cut, lines[1])))
    marked = [
        replace(part, notches=(*part.notches, *_notched(cut, line, turns)))
        for part, line in zip((one, other), lines, strict=True)
    ]
    return marked[0], marked[1]


def _notched(cut: Cut, line: Chain, turns: Mapping[str, Point]) -> Iterator[Notch]:
    for name, point in turns.items():
        at = Position(cut.seam_corners[0], share=round(float(line.nearest(point)) / line.length, 6))
        yield Notch(name, cut.line, at)


def parts_after(cut: Cut, whole: Piece, first: Piece, second: Piece) -> tuple[Piece, Piece]:
    """Return the parts after a change of the whole; the same where it left them alone.

    Raises DoesNotFit where the whole was changed in what is now the seam of its parts.
    """
    if whole is cut.whole:
        return first, second
    taken_in = _taken_in(cut, whole, first, second)
    outlines = halves(whole, cut)
    begin, end = (
        (cut.whole.mouth(end.dart), whole.mouth(end.dart)) for end in (cut.begins, cut.ends)
    )
    lines = (
        line_redrawn(first.edge(cut.line), (end, end[1].first), (begin, begin[1].second)),
        line_redrawn(second.edge(cut.line), (begin, begin[1].first), (end, end[1].second)),
    )
    parts = (
        _followed(cut, whole, first, (*outlines[0], lines[0])),
        _followed(cut, whole, second, (*outlines[1], lines[1])),
    )
    require_all_darts(whole, parts, taken_in)
    return parts


def require_all_darts(whole: Piece, parts: tuple[Piece, Piece], taken_in: Collection[str]) -> None:
    """Raise DoesNotFit where a dart inside a piece lies in neither part, nor is `taken_in`."""
    there = {dart.name for part in parts for dart in part.inner_darts}
    for dart in whole.inner_darts:
        if dart.name not in there and dart.name not in taken_in:
            reason = said("crosses-dart", dart=f"{whole.name}.{dart.name}")
            raise DoesNotFit(reason, said("another-line"), piece=whole.name, dart=dart.name)


def _taken_in(cut: Cut, whole: Piece, first: Piece, second: Piece) -> set[str]:
    """Return the darts inside a piece that its line takes in; raises DoesNotFit for one changed."""
    own = {dart.name for part in (first, second) for dart in part.inner_darts}
    was = {dart.name: dart for dart in cut.whole.inner_darts if dart.name not in own}
    now = {dart.name: dart for dart in whole.inner_darts}
    for name, dart in was.items():
        if now.get(name) != dart:
            reason, possible = said("dart-is-in-seam", line=cut.name), said("change-before-cut")
            raise DoesNotFit(reason, possible, piece=whole.name, edge=name, dart=name)
    return {*was}


def _seam_edge(cut: Cut, line: Chain, *, backwards: bool = False) -> Edge:
    begin, end = cut.seam_corners
    if backwards:
        return Edge(cut.line, end, begin, (line.reversed(),))
    return Edge(cut.line, begin, end, (line,))


# --- the line -------------------------------------------------------------------------------------


Mouths = tuple[Mouth, Mouth]
"""Where the line meets the outline: the mouth that was there, and the one that is now."""


def line_redrawn(edge: Edge, starts: tuple[Mouths, Point], ends: tuple[Mouths, Point]) -> Edge:
    """Return a line with its ends brought to where the outline meets them now, darts closed."""
    (at_start, start), (at_end, end) = starts, ends
    line = closed(edge)
    chain = _start_moved(line.chain, at_start, start)
    back = _start_moved(chain.reversed(), at_end, line.to_closed_end(end))
    drawn = back.reversed()
    if drawn == line.chain:
        return edge
    return meeting(line.opened(drawn), start=start, end=end)


def _start_moved(line: Chain, mouths: Mouths, start: Point) -> Chain:
    step = start - line.start
    if abs(step) < SAME_POINT:
        return line.starting_at(start)
    edge = Edge("", "", "", (line,))
    heading = line.start_tangent
    if abs(cross(heading, step)) < _ON_IT:
        drawn = start_cut(edge, dot(step, heading)).parts[0]
        if abs(drawn.start - start) < _ON_IT:
            return drawn.starting_at(start)
    turned = _leg_turned(line, mouths, start)
    if turned is not None:
        return turned
    shift = Motion(1 + 0j, step)
    return start_carried(edge, shift, start, taper).parts[0]


def _leg_turned(line: Chain, mouths: Mouths, start: Point) -> Chain | None:
    """Return a line that begins as the leg of a dart which opens further now, or less.

    The leg is turned about the apex, and what is drawn round there follows it. None where the line
    begins otherwise, or the dart is aimed elsewhere now.
    """
    apex = mouths[0].dart.apex
    aside = cross(line.start_tangent, apex - line.start)
    if max(abs(mouths[1].dart.apex - apex), abs(aside)) > _ON_IT:
        return None
    legs = [*takewhile(lambda c: c.is_straight and _runs(c, line.start_tangent), line.cubics)]
    rest = line.cubics[len(legs) :]
    if not legs or not rest:
        return None
    left = dot(apex - legs[-1].end, line.start_tangent)
    heading = unit(apex - start)
    end = apex - left * heading
    if left < -_ON_IT or dot(end - start, heading) < SAME_POINT:
        return None
    if left < _ON_IT:
        return Chain.joining([Chain.line(start, legs[-1].end), Chain(rest)])
    bend = smooth_join(end, heading, rest[0].end, rest[0].tangent(1.0))
    return Chain((*Chain.line(start, end).cubics, *bend.cubics, *rest[1:]))


def _runs(cubic: Cubic, heading: complex) -> bool:
    return abs(cross(heading, cubic.end - cubic.start)) < _ON_IT


# --- what else a part has -------------------------------------------------------------------------


def _followed(cut: Cut, whole: Piece, part: Piece, outline: tuple[Edge, ...]) -> Piece:
    """Return a part of the whole as it is now, with its own marks on the line and grainline."""
    edges = tuple(_kept(part, edge) for edge in outline)
    made = _part(cut, whole, part.name, edges)
    from_whole = {*_notches(cut.whole, part)}
    own = tuple(notch for notch in part.notches if notch not in from_whole)
    known = {dart.name for dart in cut.whole.inner_darts}
    inner = {dart.name for dart in part.inner_darts}
    inner |= {dart.name for dart in made.inner_darts if dart.name not in known}
    now = replace(
        made,
        notches=(*made.notches, *own),
        inner_darts=tuple(dart for dart in whole.inner_darts if dart.name in inner),
        grainline=_grain_kept(cut, whole, part) or made.grainline,
        fold=part.fold if whole.fold == cut.whole.fold else made.fold,
        allowances=tuple(_allowed(cut, whole, part)),
        pleats=part.pleats,
        vents=part.vents,
        marks=marks_followed(whole, part, made),
        label=part.label if whole.label == cut.whole.label else whole.label,
        corners=_corners(cut, whole, part),
    )
    return part if now == part else now


def _kept(part: Piece, edge: Edge) -> Edge:
    return next((old for old in part.edges if old == edge), edge)


def _grain_kept(cut: Cut, whole: Piece, part: Piece) -> Grainline | None:
    return part.grainline if whole.grainline == cut.whole.grainline else None


def _allowed(cut: Cut, whole: Piece, part: Piece) -> Iterator[tuple[str, float]]:
    """Yield the allowances of a part: the whole's where that is new, else its own.

    The line has that of the edge on which it begins until it is given its own.
    """
    was, now, own = dict(cut.whole.allowances), dict(whole.allowances), dict(part.allowances)
    for edge in part.edge_names:
        like = cut.begins.edge if edge == cut.line else edge
        follows = edge != cut.line or own.get(edge) == was.get(like)
        changed = follows and now.get(like) != was.get(like)
        found = now.get(like) if changed else own.get(edge)
        if found is not None:
            yield edge, found


def _corners(cut: Cut, whole: Piece, part: Piece) -> tuple[CutCorner, ...]:
    """Return how the corners of a part are cut: as is said of the whole where that is new."""
    was, now = ({each.corner: each for each in of.corners} for of in (cut.whole, whole))
    changed = {name for name in {*was, *now} if was.get(name) != now.get(name)}
    kept = tuple(each for each in part.corners if each.corner not in changed)
    return (*kept, *(now[n] for n in sorted(changed) if n in now and _is_there(part, now[n])))


def _is_there(part: Piece, corner: CutCorner) -> bool:
    if corner.edge not in part.edge_names:
        return False
    edge = part.edge(corner.edge)
    return corner.corner in (edge.starts_at, edge.ends_at)


def _part(cut: Cut, whole: Piece, name: str, edges: tuple[Edge, ...]) -> Piece:
    """Return a part with all that lies of the whole in it."""
    bare = Piece(name, edges)
    names = bare.edge_names
    top, bottom = (f(p.imag for p in bare.outline_points) for f in (min, max))
    allowances = dict(whole.allowances)
    beside = allowances.get(cut.begins.edge)
    cloth = polygon(bare.outline_points).buffer(_ON_IT)
    lies_in = [dart for dart in whole.inner_darts if cloth.covers(dart.diamond)]
    made = replace(
        bare,
        inner_darts=tuple(lies_in),
        notches=tuple(_notches(whole, bare)),
        grainline=_grainline(whole, bare),
        fold=whole.fold if whole.fold in names else None,
        levels=tuple(_levels(whole, names, top, bottom)),
        allowances=tuple(
            (edge, mm)
            for edge in names
            if (mm := beside if edge == cut.line else allowances.get(edge)) is not None
        ),
        worn=whole.worn,
        label=whole.label,
        corners=tuple(each for each in whole.corners if _is_there(bare, each)),
    )
    marks = marks_of_part(whole, made)
    return replace(made, marks=marks) if marks else made


def _levels(whole: Piece, names: tuple[str, ...], top: float, bottom: float) -> Iterator[Level]:
    for level in whole.levels:
        if level.along in names if level.along else top < level.y < bottom:
            yield level


def _notches(whole: Piece, part: Piece) -> Iterator[Notch]:
    """Yield the notches of the whole that lie on a part, placed from its own corners."""
    for notch in whole.notches:
        if notch.edge not in part.edge_names or is_beyond(whole, notch):
            continue
        edge, own = whole.edge(notch.edge), part.edge(notch.edge)
        if own is edge:
            yield notch
            continue
        # What a line interrupts is measured from the corner at which this part of it starts.
        before = 0.0 if own.starts_at == edge.starts_at else edge.length - own.length
        along = notch.at.along(edge) - before
        if -SAME_POINT < along <= own.length:
            yield replace(notch, at=Position(own.starts_at, distance=max(along, 0.0)))


def _grainline(whole: Piece, part: Piece) -> Grainline | None:
    """Return the grainline of the whole where it lies in the part, or one beside it that does."""
    grain = whole.grainline
    if grain is None:
        return None
    cloth = polygon(part.outline_points).buffer(0)
    if cloth.covers(polyline((grain.start, grain.end))):
        return grain
    inside = cloth.representative_point()
    place, along = complex(inside.x, inside.y), unit(grain.end - grain.start)
    far = along * abs(complex(*cloth.bounds[:2]) - complex(*cloth.bounds[2:]))
    through = polyline((place - far, place + far)).intersection(cloth)
    runs = [run for run in getattr(through, "geoms", [through]) if run.distance(inside) < _ON_IT]
    ends = [complex(*end) for end in runs[0].coords]
    middle, half = (ends[0] + ends[-1]) / 2, _OF_THE_WAY * (ends[-1] - ends[0]) / 2
    return Grainline(middle - half, middle + half)
