"""One conflict as a picture: the pieces before and after, the place marked, the ways to settle it.

Of a seam that does not walk its walk before and after is drawn as well: how much is left over.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from trueup.cli.drawing.apart import PageScale
from trueup.cli.drawing.conflict_place import place_of, signs
from trueup.cli.drawing.key import (
    KEY_LINE,
    KeyEntry,
    Sample,
    key_items,
    key_rows,
    key_width,
)
from trueup.cli.drawing.overlay import box_of_both, overlaid
from trueup.cli.drawing.paragraphs import LINE, lines_of_text
from trueup.cli.drawing.scene.layout import in_a_row, text_room, wrapped
from trueup.cli.drawing.scene.scene import Emphasis, Group, Item, Scene, Words
from trueup.cli.drawing.seam_walk import (
    ROWS,
    bare_walk,
    reach,
    rows_width,
    seam_rows,
    walk_told,
    walk_words,
)
from trueup.geometry.comparing.comparison import Comparison, compare
from trueup.geometry.lines.points import Motion
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.pieces.side import unsided
from trueup.geometry.units import Unit
from trueup.lineage.files.records import ConflictKind, ConflictRecord

_MARGIN = 15.0
_LEAST = 70  # letters of a text have room in one line


@dataclass(frozen=True)
class ConflictWords:
    """What is written with the picture of a conflict.

    `before` and `now` say what the dashed and the solid lines are; `says` is what does not hold,
    `remedies` how it can be settled.
    """

    title: str
    before: str
    now: str
    says: tuple[str, ...]
    remedies: tuple[str, ...]


@dataclass(frozen=True)
class WalkedSeam:
    """A seam walked as it was or is: its lines without words, and what is written with them."""

    scene: Scene
    heading: str
    told: tuple[str, ...]


@dataclass(frozen=True)
class ConflictOnPage:
    """A conflict as pictures of a page: its pieces, the walks of its seam, and their key."""

    pieces: tuple[Scene, ...]
    walks: tuple[WalkedSeam, ...]
    key: tuple[KeyEntry, ...]


def conflict_on_page(
    conflict: ConflictRecord,
    before: Draft | None,
    now: Draft,
    told: ConflictWords,
    unit: Unit,
    number: int = 1,
) -> ConflictOnPage:
    """Return the same as `conflict_picture` draws, in pictures that bear no sentence."""
    shown = _Shown(conflict, before, compare(before or now, now), unit)
    boxes = {name: box_of_both(shown.found, name) for name in shown.pieces}
    scale = PageScale.of(boxes.values())
    pieces = []
    for name, box in boxes.items():
        new = shown.found.new
        seen = scale.named(new.piece(name), box) if new.has_piece(name) else box
        items = tuple(_piece(shown, name, number, scale.letters))
        pieces.append(scale.scene(name, seen, items, told.title))
    walks = []
    for draft, seam, when in shown.walks:
        walked = walk(draft, seam)
        heading = f"{when}, {walk_words(walked, unit)}"
        scene = bare_walk(draft, walked, unit, when)
        walks.append(WalkedSeam(scene, heading, walk_told(draft, walked, unit)))
    return ConflictOnPage(tuple(pieces), tuple(walks), tuple(_key(shown, told, number)))


def conflict_picture(
    conflict: ConflictRecord,
    before: Draft | None,
    now: Draft,
    told: ConflictWords,
    unit: Unit,
    number: int = 1,
) -> Scene:
    """Return the picture of a conflict; without a draft from before, only as it is now."""
    shown = _Shown(conflict, before, compare(before or now, now), unit)
    names = shown.pieces
    boxes = [box_of_both(shown.found, name) for name in names]
    longest = max((reach(walk(draft, seam)) for draft, seam, _ in shown.walks), default=0.0)
    across, down = sum(box.width for box in boxes), max((box.height for box in boxes), default=1.0)
    pen = max(1.15 * across, 1.15 * longest, 1.4 * down) / 1000
    size = 14 * pen
    keys = key_rows(tuple(_key(shown, told, number)), size)
    room = max(
        text_room("n" * _LEAST, size),
        text_room(told.title, 1.1 * size),
        *(key_width(key, size) for key in keys),
    )
    for draft, seam, _ in shown.walks:
        room = max(room, rows_width(draft, walk(draft, seam), size, unit))
    top = _MARGIN + (7 + KEY_LINE * (len(keys) - 1)) * size
    row = in_a_row(boxes, _MARGIN + 3 * size, top, 6 * size)
    room = max(room, row.right + 3 * size - _MARGIN)
    items: list[Item] = [
        Words(told.title, complex(_MARGIN, _MARGIN + size), 1.1 * size, bold=True),
    ]
    for line, key in enumerate(keys):
        items += key_items(key, complex(_MARGIN, _MARGIN + (3 + KEY_LINE * line) * size), size)
    for name, motion in zip(names, row.motions, strict=True):
        items.append(Group(tuple(_piece(shown, name, number, size)), name, motion))
    bottom = row.bottom + 3.5 * size
    for draft, seam, when in shown.walks:
        rows = tuple(_walk(draft, seam, when, size, unit))
        place = Motion(shift=complex(_MARGIN, bottom))
        items.append(Group(rows, f"{when}.seam.{seam.name}", place))
        bottom += ROWS * size
    for lines, bold in _text(told, size, room):
        bottom += (2.2 if bold else LINE) * size
        items.extend(lines_of_text(lines, complex(_MARGIN, bottom), size, bold=bold))
        bottom += LINE * size * (len(lines) - 1)
    return Scene(room + 2 * _MARGIN, bottom + size + _MARGIN, told.title, tuple(items), pen)


@dataclass(frozen=True)
class _Shown:
    """A conflict with the two drafts it is shown on, the old laid under the new."""

    conflict: ConflictRecord
    before: Draft | None
    found: Comparison
    unit: Unit

    @cached_property
    def seam(self) -> Seam | None:
        """The seam that does not walk, by its first edge."""
        if self.conflict.kind is not ConflictKind.SEAM:
            return None
        return seam_of(self.conflict, self.found.new)

    @property
    def pieces(self) -> tuple[str, ...]:
        """The pieces concerned: those of the seam, that of the place, or else all."""
        every = tuple(dict.fromkeys((*self.found.new.piece_names, *self.found.old.piece_names)))
        concerned = self.seam.pieces if self.seam else {self.conflict.piece}
        return tuple(name for name in every if name in concerned) or every

    @property
    def walks(self) -> tuple[tuple[Draft, Seam, str], ...]:
        """The seam in the drafts that have it, and when that was."""
        if self.seam is None:
            return ()
        now = (self.found.new, self.seam, "now")
        old = seam_of(self.conflict, self.before) if self.before else None
        return (now,) if old is None or self.before is None else ((self.before, old, "before"), now)

    @property
    def line(self) -> str:
        """The line, or dart, the conflict lies on, by its full name; empty where on none."""
        draft, (piece, edge) = self.found.new, (self.conflict.piece, self.conflict.edge)
        if not draft.has_piece(piece):
            return ""
        there = draft.piece(piece)
        inner = (dart.name for dart in there.inner_darts)
        known = {*there.edge_names, *there.dart_names, *inner}
        return f"{piece}.{edge}" if edge in known else ""

    @property
    def moved(self) -> bool:
        """Whether anything of the pieces concerned lies otherwise than before."""
        return bool(set(self.found.changed_pieces) & set(self.pieces))


def seam_of(conflict: ConflictRecord, draft: Draft) -> Seam | None:
    """Return the seam a conflict lies on, as a draft has it; None where it has none there."""
    places = (conflict.piece, unsided(conflict.piece))
    found = (draft.seam_at(piece, conflict.edge) for piece in places)
    return next((seam for seam in found if seam), None)


def _key(shown: _Shown, told: ConflictWords, number: int) -> Iterator[KeyEntry]:
    """Yield what the lines, hatches and signs mean that are there to be seen."""
    found, names = shown.found, shown.pieces
    if shown.moved:
        yield KeyEntry(Sample.BEFORE, told.before)
    yield KeyEntry(Sample.AFTER, told.now)
    if shown.moved:
        yield KeyEntry(Sample.MOVED, "what moved")
    if shown.conflict.piece in names and shown.line:
        yield KeyEntry(Sample.OFFENDING, "the line that does not fit")
    if any(not found.cloth_gained(name).is_empty for name in names):
        yield KeyEntry(Sample.GAINED, "cloth added")
    if any(not found.cloth_lost(name).is_empty for name in names):
        yield KeyEntry(Sample.LOST, "cloth taken away")
    if shown.conflict.piece in names:
        yield KeyEntry(Sample.CONFLICT, "where the conflict lies", number)


def _piece(shown: _Shown, name: str, number: int, size: float) -> Iterator[Item]:
    found, conflict = shown.found, shown.conflict
    offending = dict.fromkeys([shown.line] if shown.line else [], Emphasis.OFFENDING)
    yield from overlaid(found, name, size, offending)
    if name != conflict.piece:
        return
    drafts = [draft for draft in (found.new, found.old) if draft.has_piece(name)]
    # A dart that is gone lies where it was.
    found_at = (place_of(conflict, draft, found.moves) for draft in drafts)
    place = next((each for each in found_at if each is not None), None)
    yield from signs([(number, place)], [draft.piece(name) for draft in drafts], size)


def _walk(draft: Draft, seam: Seam, when: str, size: float, unit: Unit) -> Iterator[Item]:
    walked = walk(draft, seam)
    heading = f"{when}, {walk_words(walked, unit)}"
    yield from seam_rows(draft, walked, size, unit, heading, f"{when}.")


def _text(told: ConflictWords, size: float, room: float) -> Iterator[tuple[tuple[str, ...], bool]]:
    """Yield the paragraphs below the picture, and whether each is bold."""
    for text in told.says:
        yield wrapped(text, size, room), False
    if told.remedies:
        yield ("How it can be settled:",), True
    for text in told.remedies:
        yield wrapped(text, size, room), False
