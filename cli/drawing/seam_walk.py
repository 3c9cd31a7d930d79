"""Seams as they are walked: the two seam lines laid straight along each other from their start.

The first side lies above, its mate below, each as long as it is sewn. Where a dart was closed a
small triangle stands on the line; a notch is a short stroke towards the other side, joined by a
fine line to the one of the same name that it is sewn to; what is left over at the end is measured.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from trueup.cli.amounts import band, change, length, standing
from trueup.cli.drawing.scene.layout import text_room
from trueup.cli.drawing.scene.scene import (
    BOLD,
    FINE,
    SEAM,
    Anchor,
    Dimension,
    Group,
    Hatch,
    HatchedArea,
    Item,
    Line,
    Scene,
    Words,
)
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.measuring.walk import Walk, walk
from trueup.geometry.pieces.draft import Draft, Run
from trueup.geometry.tolerance import UNCHANGED
from trueup.geometry.units import Unit

WALK_KEY = (
    "A triangle: a closed dart. A short stroke between the lines: a notch; a fine line joins two "
    "marks that are sewn together. Hatched: left over."
)

BARE_WALK_KEY = f"{WALK_KEY} The short line below: where the upper side may end."
"""The same for a seam that bears no words."""

_MARGIN = 12.0
ROWS = 14.0
"""So many letters high is one seam."""
_BARE_WIDTH = 620.0
"""So many pixels wide is a seam without words, where there is room."""
_BARE_ROWS = 7.8
_BESIDE = 8.0  # letters wide are the words at the end of a seam, at most


@dataclass(frozen=True)
class _Laid:
    """One edge of a side: where it starts and ends along the seam, mm, its darts and notches."""

    run: Run
    start: float
    end: float
    darts: tuple[tuple[str, float], ...]
    notches: tuple[tuple[str, float], ...]


def walk_picture(draft: Draft, names: Sequence[str], title: str, unit: Unit) -> Scene:
    """Return the picture of seams walked; raises NoSuchName for a seam that is not there."""
    walked = [walk(draft, draft.seam(name)) for name in names]
    longest = max([1.0, *(reach(each) for each in walked)])
    pen = longest * 1.1 / 900
    size = 14 * pen
    items: list[Item] = [Words(title, complex(_MARGIN, _MARGIN + size), 1.1 * size, bold=True)]
    top = _MARGIN + 4 * size
    for each in walked:
        rows = tuple(seam_rows(draft, each, size, unit))
        items.append(Group(rows, f"seam.{each.seam.name}", Motion(shift=complex(_MARGIN, top))))
        top += ROWS * size
    if not walked:
        items.append(Words("No seams.", complex(_MARGIN, top), size))
        top += size
    items.append(Words(WALK_KEY, complex(_MARGIN, top), size))
    rooms = [rows_width(draft, each, size, unit) for each in walked]
    width = max(text_room(title, 1.1 * size), text_room(WALK_KEY, size), *rooms) + 2 * _MARGIN
    return Scene(width, top + _MARGIN, title, tuple(items), pen)


def bare_walk(draft: Draft, walked: Walk, unit: Unit, when: str = "") -> Scene:
    """Return a walked seam as a picture of a page, at any width: its lines without a word.

    What is written with it is `walk_told`; `when` begins its title and its ids.
    """
    pen = max(1.0, reach(walked)) * 1.04 / _BARE_WIDTH
    size = 14 * pen
    prefix = f"{when}." if when else ""
    rows = seam_rows(draft, walked, size, unit, "-", prefix)
    lines = tuple(item for item in rows if not isinstance(item, Words))
    name = f"{prefix}seam.{walked.seam.name}"
    drawn = Group(lines, name, Motion(shift=complex(size, -2.5 * size)))
    title = f"{f'{when}, ' if when else ''}{walked.seam.name} walked"
    return Scene(reach(walked) + 2 * size, _BARE_ROWS * size, title, (drawn,), pen)


def walk_told(draft: Draft, walked: Walk, unit: Unit) -> tuple[str, ...]:
    """Return what is written with a walked seam whose lines bear no words, a sentence each."""
    sides = (walked.seam.side, walked.seam.mate)
    above, below = (
        ", ".join(f"{run} {length(draft.edge(run.piece, run.edge).length, unit)}" for run in runs)
        for runs in sides
    )
    return (f"Above: {above}. Below: {below}.", *filter(None, (_notch_words(draft, walked, unit),)))


def reach(walked: Walk) -> float:
    """Return how long a walked seam is drawn, mm; the words at its end stand beyond."""
    return max(walked.side, walked.mate + max(walked.seam.allowed.high, 0.0))


def rows_width(draft: Draft, walked: Walk, size: float, unit: Unit) -> float:
    """Return the room across that a walked seam takes with all its words, mm."""
    texts = (
        walk_words(walked, unit),
        _notch_words(draft, walked, unit),
        _section_words(walked, unit),
    )
    return max(reach(walked) + _BESIDE * size, *(text_room(text, size) for text in texts))


def walk_words(walked: Walk, unit: Unit) -> str:
    """Return in words what a seam walks to, and whether that is allowed."""
    allowed, ease = walked.seam.allowed, walked.ease
    verdict = f"(allowed {band(allowed, unit)}) {standing(allowed, ease, unit)}"
    return f"{walked.seam.name}: ease {change(ease, unit)} {verdict}"


def seam_rows(
    draft: Draft, walked: Walk, size: float, unit: Unit, heading: str = "", prefix: str = ""
) -> Iterator[Item]:
    """Yield one seam, walked, from the point 0 to the right and down; letters are `size` high.

    `heading` stands above it in place of what it walks to; every id begins with the prefix.
    """
    side, mate = 4 * size * 1j, 6.5 * size * 1j
    yield Words(heading or walk_words(walked, unit), complex(0, size), size, bold=True)
    yield from _side(draft, walked.seam.side, side, -1, size, unit, prefix)
    yield from _side(draft, walked.seam.mate, mate, 1, size, unit, prefix)
    ends = sorted((walked.side, walked.mate))
    at = side if walked.side > walked.mate else mate
    field = shapely.box(ends[0], at.imag - 0.5 * size, ends[1], at.imag + 0.5 * size)
    if ends[1] - ends[0] > UNCHANGED:
        yield HatchedArea(field, Hatch.RISING, f"{prefix}seam.{walked.seam.name}.left-over")
        between = (side + mate) / 2
        yield Dimension(ends[0] + between, ends[1] + between, 0.4 * size)
        # Both ends are led to the measured distance, so that a small one is seen as well.
        for end, line in ((walked.side, side), (walked.mate, mate)):
            yield Line(((end + line, end + between),), FINE)
        words = length(ends[1] - ends[0], unit)
        yield Words(words, ends[1] + between + complex(0.7, 0.35) * size, size)
    yield from _allowed(walked, mate, size, unit)
    yield from _notched(draft, walked, (side, mate), size, unit)


def _notched(
    draft: Draft, walked: Walk, lines: tuple[Point, Point], size: float, unit: Unit
) -> Iterator[Item]:
    """Yield the notches of one name joined, and in words the ease from each to the next."""
    short = 0.6j * size
    for above, below, _ in _pairs(draft, walked):
        yield Line(((above + lines[0] + short, below + lines[1] - short),), FINE)
    if words := _notch_words(draft, walked, unit):
        yield Words(words, lines[1] + 4.6j * size, size)
    if words := _section_words(walked, unit):
        yield Words(words, lines[1] + 5.8j * size, size)


def _notch_words(draft: Draft, walked: Walk, unit: Unit) -> str:
    """Return the ease from each joined notch to the next; empty where there are none."""
    pairs = _pairs(draft, walked)
    if not pairs:
        return ""
    stretches, done = [], 0.0
    for above, below, name in (*pairs, (walked.side, walked.mate, "the end")):
        stretches.append(f"{change(above - below - done, unit)} to {name}")
        done = above - below
    return f"Ease from notch to notch: {', '.join(stretches)}."


def _pairs(draft: Draft, walked: Walk) -> list[tuple[float, float, str]]:
    """Return how far along both sides the marks lie that are sewn together, and their names."""
    above, below = (_by_name(draft, runs) for runs in (walked.seam.side, walked.seam.mate))
    found = {(above[name], below[name], name) for name in above.keys() & below.keys()}
    side = mate = 0.0
    for part in walked.sections[:-1]:
        side, mate = side + part.side, mate + part.mate
        found.add((side, mate, part.section.ends_at[0]))
    return sorted(found)


def _section_words(walked: Walk, unit: Unit) -> str:
    """Return what each section holds and may hold; empty where the seam has none."""
    told = (
        f"{part.section.name} part {change(part.ease, unit)} (allowed "
        f"{band(part.section.allowed, unit)}) {standing(part.section.allowed, part.ease, unit)}"
        for part in walked.sections
    )
    return "; ".join(told)


def _by_name(draft: Draft, runs: Sequence[Run]) -> dict[str, float]:
    """Return how far along the seam each notch lies, mm, by names that are there once."""
    found = [notch for laid in _laid(draft, runs) for notch in laid.notches]
    names = [name for name, _ in found]
    return {name: along for name, along in found if names.count(name) == 1}


def _allowed(walked: Walk, mate: Point, size: float, unit: Unit) -> Iterator[Item]:
    """Yield the stretch within which the first side may end."""
    low, high = walked.seam.allowed.low, walked.seam.allowed.high
    if high - low <= 0:
        return
    at = mate + 2.9j * size
    start, end = walked.mate + low + at, walked.mate + high + at
    yield Dimension(start, end, 0.3 * size)
    words = f"the upper side may end here: {length(low, unit)} to {length(high, unit)} of ease"
    yield Words(words, start + complex(-0.7, 0.35) * size, size, Anchor.END)


def _side(
    draft: Draft,
    runs: Sequence[Run],
    at: Point,
    outwards: int,
    size: float,
    unit: Unit,
    prefix: str,
) -> Iterator[Item]:
    """Yield one side; `outwards` is +1 where its words stand below the line, -1 above."""
    up = 1j * outwards * size
    for laid in _laid(draft, runs):
        start, end = laid.start + at, laid.end + at
        yield Line(((start, end),), BOLD, f"{prefix}walk.{laid.run}")
        for place in (start, end):
            yield Line(((place - 0.5 * up, place + 0.5 * up),), SEAM)
        for _, along in laid.darts:
            foot = along + at
            corners = (foot, foot + 0.9 * up + 0.35 * size, foot + 0.9 * up - 0.35 * size)
            yield Line((corners,), SEAM, closed=True, opaque=True)
        for _, along in laid.notches:
            yield Line(((along + at, along + at - 0.6 * up),), SEAM)
        drop = (1.45 if outwards < 0 else 2.0) * up
        words = f"{laid.run} {length(laid.end - laid.start, unit)}"
        yield Words(words, (start + end) / 2 + drop, 0.9 * size, Anchor.MIDDLE)


def _laid(draft: Draft, runs: Sequence[Run]) -> Iterator[_Laid]:
    done = 0.0
    for run in runs:
        piece = draft.piece(run.piece)
        edge = piece.edge(run.edge)
        ahead, total, start = not run.backwards, edge.length, done

        def along(place: float, *, ahead: bool, total: float, start: float) -> float:
            return start + (place if ahead else total - place)

        darts, sewn = [], 0.0
        for part, dart in zip(edge.parts, edge.darts, strict=False):
            sewn += part.length
            darts.append((dart.name, along(sewn, ahead=ahead, total=total, start=start)))
        notches = tuple(
            (notch.name, along(notch.at.along(edge), ahead=ahead, total=total, start=start))
            for notch in piece.notches
            if notch.edge == edge.name
        )
        done += total
        yield _Laid(run, start, done, tuple(darts), notches)
