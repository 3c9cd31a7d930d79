"""The two parts of a piece that is cut along two lines, when it is cut and after it was changed."""

from collections.abc import Iterator
from dataclasses import replace

from trueup.geometry.cuts.following import Mouths, line_redrawn
from trueup.geometry.cuts.two_cut.two_lines import (
    UNDERARM,
    Parting,
    Ring,
    ring_between,
    ring_beyond,
    straightening,
)
from trueup.geometry.cuts.two_cut.two_marked import marks_beyond
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.marking.on_parts import marks_of_part
from trueup.geometry.pieces.beyond.marks import is_beyond
from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.cut_corner import CutCorner
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import require_no_dart
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT

_GRAIN_FROM, _GRAIN_TO = 0.15, 0.85
"""The grainline of the part beyond the lines runs down the seam that it had, but for its ends."""

Lines = tuple[Chain, Chain]
"""Both lines from above to below, the front one first."""


def two_parts(parting: Parting, beyond: Lines, between: Lines) -> tuple[Piece, Piece]:
    """Return the part beyond two lines and the one between them, as each of them has these.

    All of them are given where the whole has them.
    """
    front, back = (
        straightening(parting, None, line, (index, True)).moved(parting.motions[index])
        for index, line in enumerate(beyond)
    )
    ahead, behind = (
        straightening(parting, None, line, (index, False)) for index, line in enumerate(between)
    )
    return (
        _beyond(parting, ring_beyond(parting, front, back)),
        _between(parting, ring_between(parting, ahead, behind)),
    )


def two_parts_after(cut: Cut, whole: Piece, first: Piece, second: Piece) -> tuple[Piece, Piece]:
    """Return the parts after a change of the whole; the same where it left them alone.

    Raises DoesNotFit where a line that has to follow is interrupted on a part, and where a dart was
    put into the seam that is none any more.
    """
    if whole is cut.whole:
        return first, second
    was, now = Parting(cut, cut.whole), Parting(cut, whole)
    ring, other = first.edges, second.edges
    if whole.edges != cut.whole.edges:
        for seam in now.seams:
            require_no_dart(seam, said("bend-instead"))
        ring = _kept(first, was, ring_beyond(now, *_lines_beyond(was, now, first)))
        other = _kept(second, was, ring_between(now, *_lines_between(was, now, second)))
    return (
        _followed(_beyond(was, first.edges), first, _beyond(now, ring)),
        _followed(_between(was, second.edges), second, _between(now, other)),
    )


# --- the lines after a change ---------------------------------------------------------------------


def _ends(was: Parting, now: Parting) -> tuple[tuple[Mouths, Mouths], tuple[Mouths, Mouths]]:
    """Return where each line meets the outline, above and below, before and after."""

    def mouths(dart: str) -> tuple[Mouth, Mouth]:
        return was.whole.mouth(dart), now.whole.mouth(dart)

    one, other = now.front_line, now.cut
    return (
        (mouths(one.begins.dart), mouths(one.ends.dart)),
        (mouths(other.begins.dart), mouths(other.ends.dart)),
    )


def _lines_between(was: Parting, now: Parting, part: Piece) -> Lines:
    front, back = _ends(was, now)
    ahead, behind = _undarted(part, now.front_line.line).reversed(), _undarted(part, now.cut.line)
    one = _redrawn(ahead, (front[0], front[0][1].second), (front[1], front[1][1].first))
    other = _redrawn(behind, (back[0], back[0][1].first), (back[1], back[1][1].second))
    return (
        straightening(now, was, one, (0, False)),
        straightening(now, was, other, (1, False)),
    )


def _lines_beyond(was: Parting, now: Parting, part: Piece) -> Lines:
    """Return the lines of the part beyond them, drawn anew where the whole has them."""
    front, back = _ends(was, now)
    ahead, behind = _undarted(part, now.front_line.line), _undarted(part, now.cut.line).reversed()
    drawn = []
    for index, (line, ends, points) in enumerate(
        (
            (ahead, front, (front[0][1].first, front[1][1].second)),
            (behind, back, (back[0][1].second, back[1][1].first)),
        )
    ):
        there = line.moved(was.motions[index].inverse())
        found = _redrawn(there, (ends[0], points[0]), (ends[1], points[1]))
        shaped = straightening(now, was, found, (index, True))
        same = found == there and shaped is found and was.motions == now.motions
        drawn.append(line if same else shaped.moved(now.motions[index]))
    return drawn[0], drawn[1]


def _undarted(part: Piece, line: str) -> Chain:
    """Return a line of a part; raises DoesNotFit where a dart or another cut interrupts it."""
    edge = part.edge(line)
    try:
        require_no_dart(edge, said("change-before-cut"))
    except DoesNotFit as refusal:
        raise refusal.at(part.name) from refusal
    return edge.parts[0]


def _redrawn(line: Chain, starts: tuple[Mouths, complex], ends: tuple[Mouths, complex]) -> Chain:
    if max(abs(line.start - starts[1]), abs(line.end - ends[1])) < SAME_POINT:
        return line
    return line_redrawn(Edge("", "", "", (line,)), starts, ends).parts[0]


# --- what else a part has -------------------------------------------------------------------------


def _kept(part: Piece, was: Parting, ring: Ring) -> Ring:
    """Return an outline with the edges of a part that the change left alone."""
    before = {edge.name: edge for edge in (*was.beyond, *was.between)}
    names = {edge.name for edge in ring}
    kept = tuple(
        part.edge(edge.name)
        if edge.name in names and edge in (before.get(edge.name), part.edge(edge.name))
        else edge
        for edge in ring
    )
    return tuple(
        replace(
            edge,
            parts=(
                edge.parts[0].starting_at(kept[k - 1].end),
                *edge.parts[1:],
            ),
        )
        if edge.start != kept[k - 1].end
        else edge
        for k, edge in enumerate(kept)
    )


def _followed(was: Piece, part: Piece, now: Piece) -> Piece:
    """Return a part as it is `now`, with all that was made on it by itself since it `was` cut."""
    given = dict(was.allowances)
    own = {name: mm for name, mm in part.allowances if given.get(name) != mm}
    notches = tuple(notch for notch in part.notches if notch not in was.notches)
    marks = tuple(mark for mark in part.marks if mark not in was.marks)
    corners = tuple(each for each in part.corners if each not in was.corners)
    found = replace(
        now,
        name=part.name,
        notches=(*now.notches, *notches),
        allowances=tuple({**dict(now.allowances), **own}.items()),
        grainline=now.grainline if part.grainline == was.grainline else part.grainline,
        pleats=part.pleats,
        vents=part.vents,
        marks=(*now.marks, *marks),
        corners=(*now.corners, *corners),
        label=part.label if part.label != was.label else now.label,
    )
    return part if found == part else found


def _beyond(parting: Parting, ring: Ring) -> Piece:
    """Return the part beyond the lines with all that lies of the whole in it."""
    whole, names = parting.whole, parting.cut.beside
    top, foot = ring[0].start, parting.motions[0](parting.seams[0].start)
    down = foot - top
    bare = Piece(parting.cut.parts[0], ring)
    grain = Grainline(top + down * _GRAIN_FROM, top + down * _GRAIN_TO)
    return replace(
        bare,
        notches=tuple(_notches_beyond(parting)),
        grainline=grain if whole.grainline else None,
        levels=tuple(_levels_beyond(parting)),
        allowances=tuple(_allowances(parting, (*names, parting.cut.ends.edge))),
        worn=whole.worn,
        label=whole.label,
        corners=tuple(_corners(parting)),
        marks=tuple(marks_beyond(parting, bare)),
    )


def _between(parting: Parting, ring: Ring) -> Piece:
    """Return the part between the lines with all that lies of the whole in it."""
    whole, cut = parting.whole, parting.cut
    made = replace(
        Piece(cut.parts[1], ring),
        notches=tuple(_notches_between(parting)),
        grainline=whole.grainline,
        levels=whole.levels,
        allowances=tuple(_allowances(parting, (cut.begins.edge, cut.ends.edge))),
        worn=whole.worn,
        label=whole.label,
        corners=tuple(_corners(parting)),
    )
    return replace(made, marks=marks_of_part(whole, made))


def _allowances(parting: Parting, edges: tuple[str, ...]) -> Iterator[tuple[str, float]]:
    """Yield what is cut outside each edge: outside a line as outside the seam that was there."""
    stated, cut = dict(parting.whole.allowances), parting.cut
    front, back = parting.seams
    lines = ((parting.front_line.line, front.name), (cut.line, back.name))
    for name, of_whole in (*((edge, cut.edge_of_whole(edge)) for edge in edges), *lines):
        if of_whole in stated:
            yield name, stated[of_whole]


def _corners(parting: Parting) -> Iterator[CutCorner]:
    """Yield how the corners below the lines are cut: as those of the whole were."""
    lower = parting.cut.ends.edge
    for each in parting.whole.corners[:1]:
        if each.edge == lower:
            for line in (parting.front_line.line, parting.cut.line):
                yield replace(each, corner=f"{line}-{lower}")


def _levels_beyond(parting: Parting) -> Iterator[Level]:
    """Yield the levels of the whole where the seam that it had passes them."""
    front, motion = parting.seams[0], parting.motions[0]
    for level in parting.whole.levels:
        if level.along:
            yield level
            continue
        met = [at for part in front.parts for at in part.meetings(complex(0, level.y), 1 + 0j)]
        if met:
            yield replace(level, y=motion(met[0]).imag)


def _along_stretches(parting: Parting, edge: str) -> tuple[float, float]:
    """Return where the lines meet an edge of the whole, mm along it."""
    stretches = parting.upper if edge == parting.cut.begins.edge else parting.lower
    return stretches[0].length, stretches[0].length + stretches[1].length


def _notches_beyond(parting: Parting) -> Iterator[Notch]:
    cut, whole = parting.cut, parting.whole
    for notch in whole.notches:
        if notch.edge not in (cut.begins.edge, cut.ends.edge) or is_beyond(whole, notch):
            continue
        edge = whole.edge(notch.edge)
        along, (low, high) = notch.at.along(edge), _along_stretches(parting, notch.edge)
        if low < along < high:
            continue
        before = along <= low
        if notch.edge == cut.begins.edge:
            distance = along if before else edge.length - along
            at = Position(UNDERARM, distance=max(distance, 0.0))
            yield Notch(notch.name, cut.beside[0 if before else 1], at)
        else:
            line = cut.line if before else parting.front_line.line
            distance = low - along if before else along - high
            at = Position(f"{line}-{notch.edge}", distance=max(distance, 0.0))
            yield Notch(notch.name, notch.edge, at)


def _notches_between(parting: Parting) -> Iterator[Notch]:
    for notch in parting.whole.notches:
        edges = (parting.cut.begins.edge, parting.cut.ends.edge)
        if notch.edge not in edges or is_beyond(parting.whole, notch):
            continue
        edge = parting.whole.edge(notch.edge)
        along, (low, high) = notch.at.along(edge), _along_stretches(parting, notch.edge)
        if low < along < high:
            between = parting.between[edges.index(notch.edge)]
            at = Position(between.starts_at, distance=along - low)
            yield replace(notch, at=at)
