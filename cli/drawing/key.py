"""The key of a picture: what its lines, hatches and signs mean, each with a sample of it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

import shapely

from trueup.cli.drawing.scene.crossings import bridged
from trueup.cli.drawing.scene.layout import text_room
from trueup.cli.drawing.scene.scene import (
    BEFORE,
    BOLD,
    FINE,
    MOVED,
    OFFENDING,
    SEAM,
    Anchor,
    Emphasis,
    Group,
    Hatch,
    HatchedArea,
    Item,
    Line,
    Mark,
    Pen,
    Scene,
    Sign,
    Words,
)
from trueup.geometry.lines.points import Motion, Point

_SAMPLE = 3.0  # letters long is a sample
KEY_LINE = 2.2
"""So many letters high is one row of a key."""
_ROW = 70.0  # letters wide, at most
_APART = 5.0  # letters between one text and the next, with the sample


class Sample(Enum):
    """What is shown beside a text of the key."""

    CLOTH = "cloth"
    BEFORE = "before"
    AFTER = "after"
    GAINED = "gained"
    LOST = "lost"
    MOVED = "moved"
    OFFENDING = "offending"
    DONE = "done"
    CONFLICT = "conflict"
    BLOCK = "bold-frame"
    PATTERN = "thin-frame"
    WAITS = "double-frame"
    DERIVES = "drawn-from"
    STAYS = "stays-on"
    CROSSES = "crossing"
    SIGN = "letter"


@dataclass(frozen=True)
class KeyEntry:
    """One text of the key and the sample beside it: `number` is that of a mark, `sign` a letter."""

    sample: Sample
    text: str
    number: int = 1
    sign: str = ""


def over_each_other(before: str, after: str) -> tuple[KeyEntry, ...]:
    """Return the key of an old version drawn under a new one."""
    return (
        KeyEntry(Sample.BEFORE, before),
        KeyEntry(Sample.AFTER, after),
        KeyEntry(Sample.MOVED, "what moved"),
        KeyEntry(Sample.GAINED, "cloth added"),
        KeyEntry(Sample.LOST, "cloth taken away"),
    )


def key_rows(entries: Sequence[KeyEntry], size: float) -> tuple[tuple[KeyEntry, ...], ...]:
    """Return a key as the rows it takes in a picture that is a thousand pixels wide."""
    rows: list[list[KeyEntry]] = [[]]
    for entry in entries:
        if rows[-1] and key_width([*rows[-1], entry], size) > _ROW * size:
            rows.append([])
        rows[-1].append(entry)
    return tuple(map(tuple, rows))


def key_width(entries: Sequence[KeyEntry], size: float) -> float:
    """Return the room a key takes across, its texts in letters of a size."""
    return sum(_APART * size + text_room(entry.text, size) for entry in entries)


def key_items(entries: Sequence[KeyEntry], at: Point, size: float) -> Iterator[Item]:
    """Yield a key in one line that starts at a point."""
    for entry in entries:
        yield Group(tuple(_sample(entry, size)), motion=Motion(shift=at))
        yield Words(entry.text, at + complex(_SAMPLE + 0.5, 0.35) * size, size)
        at += _APART * size + text_room(entry.text, size)


def sample_scene(entry: KeyEntry) -> Scene:
    """Return the sample of a key by itself, for words that stand beside it."""
    size = 14.0
    wide, high = (_SAMPLE + 0.6) * size, 2.2 * size
    items = tuple(_sample(entry, size))
    at = Motion(shift=complex(0.3 * size, high / 2 + 0.15 * size))
    return Scene(wide, high, entry.text, (Group(items, motion=at),), 1.0)


def _sample(entry: KeyEntry, size: float) -> Iterator[Item]:
    line = ((0j, complex(_SAMPLE * size)),)
    field = shapely.box(0, -0.6 * size, _SAMPLE * size, 0.6 * size)
    match entry.sample:
        case Sample.CLOTH:
            yield Line(line, FINE)
        case Sample.BEFORE:
            yield Line(line, BEFORE)
        case Sample.AFTER:
            yield Line(line, SEAM)
        case Sample.MOVED:
            yield Line(line, MOVED, emphasis=Emphasis.MOVED)
        case Sample.OFFENDING:
            yield Line(line, OFFENDING, emphasis=Emphasis.OFFENDING)
        case Sample.GAINED:
            yield HatchedArea(field, Hatch.RISING)
        case Sample.LOST:
            yield HatchedArea(field, Hatch.FALLING)
        case Sample.DONE:
            yield Mark(entry.number, complex(_SAMPLE / 2 * size), 0.7 * size)
        case Sample.CONFLICT:
            yield Mark(entry.number, complex(_SAMPLE / 2 * size), 0.7 * size, sign=Sign.WARNING)
        case _:
            yield from _of_graph(entry, size)


def _of_graph(entry: KeyEntry, size: float) -> Iterator[Item]:
    line = (0j, complex(_SAMPLE * size))
    match entry.sample:
        case Sample.BLOCK:
            yield _frame(size, BOLD)
        case Sample.PATTERN:
            yield _frame(size, SEAM)
        case Sample.WAITS:
            yield _frame(size, SEAM)
            yield _frame(size, SEAM, 0.25)
        case Sample.DERIVES:
            yield Line((line,), SEAM)
        case Sample.STAYS:
            yield Line((line,), BEFORE)
        case Sample.CROSSES:
            middle = complex(_SAMPLE / 2 * size)
            yield Line(((middle - 0.9j * size, middle + 0.7j * size),), SEAM)
            yield Line((bridged(line, [middle]),), SEAM)
        case Sample.SIGN:
            at = complex(_SAMPLE / 2, 0.35) * size
            yield Words(entry.sign, at, size, Anchor.MIDDLE, bold=True)


def _frame(size: float, pen: Pen, inside: float = 0.0) -> Line:
    left, right, half = inside * size, (_SAMPLE - inside) * size, (0.7 - inside) * size
    corners = (
        complex(left, -half),
        complex(right, -half),
        complex(right, half),
        complex(left, half),
    )
    return Line((corners,), pen, closed=True)
