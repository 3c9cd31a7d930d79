"""What can go wrong in the geometry, as one small tree.

    GeometryError
        BadLength       a text or a number that is not a usable length
        BadPosition     a text that is no place on an edge, or a place the edge does not reach
        BadParameter    a change, draft or seam was given a value it cannot use
        BrokenOutline   curves, edges or darts that do not close into a piece
        NoSuchName      a piece, edge, dart, corner, level, seam or measure that is not there
        DoesNotFit      what is asked for cannot be drawn on the lines there are
        CannotChange    a change the geometry cannot carry out at its amounts

Every error keeps its facts as attributes; `says` is what there is to say of it: what is wrong,
where, and what to do instead. `cli/wording` has the words; ``str()`` tells facts, lengths in mm.
"""

from collections.abc import Sequence
from difflib import get_close_matches
from typing import Self

from trueup.geometry.said import Said, said, text

_LONGEST_QUOTE = 40


class GeometryError(Exception):
    """Root of everything the geometry refuses; catch this to catch them all.

    `unit` is the one the maker reads lengths in, where that is known; the facts have them in mm.
    """

    unit = "mm"

    @property
    def says(self) -> Said:
        """Return what there is to say of it."""
        return text(super().__str__())

    def __str__(self) -> str:
        return str(self.says)


class BadLength(GeometryError):
    """A text that cannot be read as a length, or a number that cannot be a length.

    ``text`` is what was given, in full; ``reason`` says what is wrong with it; ``remedy`` says
    what would be understood instead.

    >>> str(BadLength("12ft", said("unknown-unit", unit="ft"), said("write-length")))
    'bad-length (text 12ft): unknown-unit (unit ft); write-length'
    """

    def __init__(self, text: str, reason: Said, remedy: Said) -> None:
        super().__init__(text, reason, remedy)
        self.text = text
        self.reason = reason
        self.remedy = remedy

    @property
    def says(self) -> Said:
        """Return text, reason and remedy."""
        return said("bad-length", self.reason, self.remedy, text=shown(self.text))


def shown(text: str) -> str:
    r"""Return ``text`` fit to stand inside a sentence: one line, printable, not too long.

    >>> shown("1\n2")
    '1\\n2'
    >>> len(shown("9" * 1_000_000))
    40
    """
    if len(text) > _LONGEST_QUOTE:
        text = text[: _LONGEST_QUOTE - 1] + "…"
    # Undecodable bytes arrive from a command line as lone surrogates, which no terminal can print.
    return "".join(
        letter if letter.isprintable() else letter.encode("unicode_escape").decode("ascii")
        for letter in text
    )


class BadPosition(GeometryError):
    """A text that does not name a place on an edge, or a place beyond the edge's end."""

    def __init__(self, text: Said | str, remedy: Said) -> None:
        super().__init__(text, remedy)
        self.text = text
        self.remedy = remedy

    @property
    def says(self) -> Said:
        """Return the text and what would do."""
        return said("bad-position", _value(self.text), self.remedy)


class BadParameter(GeometryError):
    """A parameter with a value that makes no sense; `name`, `value` and what would do."""

    def __init__(self, name: str, value: object, remedy: Said) -> None:
        super().__init__(name, value, remedy)
        self.name = name
        self.value = value
        self.remedy = remedy

    @property
    def says(self) -> Said:
        """Return name, value and what would do."""
        return said("bad-parameter", _value(self.value), self.remedy, name=self.name)


def _value(value: object) -> Said:
    return value if isinstance(value, Said) else text(shown(str(value)))


class BrokenOutline(GeometryError):
    """Curves, edges or darts that do not close into a piece, and what is wrong with them."""

    def __init__(self, reason: Said) -> None:
        super().__init__(reason)
        self.reason = reason

    @property
    def says(self) -> Said:
        """Return what is wrong."""
        return self.reason


class NoSuchName(GeometryError):
    """A name that is not there; `what` it should be, `where`, and the `candidates` there are."""

    def __init__(self, what: str, name: str, where: str, candidates: Sequence[str]) -> None:
        super().__init__(what, name, where, candidates)
        self.what = what
        self.name = name
        self.where = where
        self.candidates = tuple(candidates)

    @property
    def nearest(self) -> tuple[str, ...]:
        """Return the candidates most like the name; all of them when none is like it."""
        like = get_close_matches(self.name, self.candidates, n=3, cutoff=0.5)
        return tuple(like) or self.candidates[:8]

    @property
    def says(self) -> Said:
        """Return the name, where it is not, and what is there instead."""
        return text(str(self).removesuffix("."))

    def __str__(self) -> str:
        article = "an" if self.what[0] in "aeiou" else "a"
        start = f'"{shown(self.name)}" is not {article} {self.what} of {self.where}'
        if not self.candidates:
            return f"{start}: it has none."
        return f"{start}; try {', '.join(self.nearest)}."


class DoesNotFit(GeometryError):
    """What is asked for cannot be drawn on the lines there are; raised by what draws them.

    The `reason`, and what would be `possible`; `piece` and `edge` (a name of one of the piece's
    edges or darts) as far as they are known there. `largest` is the amount in mm that could still
    be carried out, where that is known, and `dart` the name of the dart of that piece that is in
    the way, where one is. What it was asked for, the kind of change that asks adds (CannotChange).
    """

    def __init__(
        self,
        reason: Said,
        possible: Said | None = None,
        piece: str = "",
        edge: str = "",
        largest: float | None = None,
        dart: str | None = None,
    ) -> None:
        super().__init__(reason, possible, piece, edge, largest, dart)
        self.reason = reason
        self.possible = possible or said("smaller-amount")
        self.piece = piece
        self.edge = edge
        self.largest = largest
        self.dart = dart

    @property
    def says(self) -> Said:
        """Return the reason, and what would be possible."""
        return said("does-not-fit", self.reason, self.possible)

    @classmethod
    def of(cls, refusal: "DoesNotFit | BrokenOutline") -> "DoesNotFit":
        """Return a refusal as one of this kind."""
        return refusal if isinstance(refusal, DoesNotFit) else cls(refusal.reason)

    def at(self, piece: str, edge: str = "") -> "DoesNotFit":
        """Return the same with its place, where it did not know it."""
        return DoesNotFit(
            self.reason,
            self.possible,
            piece=self.piece or piece,
            edge=self.edge or edge,
            largest=self.largest,
            dart=self.dart,
        )


class CannotChange(GeometryError):
    """A change that the geometry cannot carry out at its amounts.

    `kind` of change, `piece`, `edge` (a name of one of the piece's edges or darts), the `reason`,
    and what would be `possible`. `largest` is the amount in mm that could still be carried out,
    where there is one, and `dart` the name of the dart of that piece that is in the way, where one
    is.
    """

    def __init__(
        self,
        kind: str,
        piece: str,
        edge: str,
        reason: Said,
        possible: Said,
        largest: float | None = None,
        dart: str | None = None,
    ) -> None:
        super().__init__(kind, piece, edge, reason, possible, largest, dart)
        self.kind = kind
        self.piece = piece
        self.edge = edge
        self.reason = reason
        self.possible = possible
        self.largest = largest
        self.dart = dart

    @classmethod
    def of(cls, kind: str, refusal: DoesNotFit) -> Self:
        """Return what a kind of change says where what it drew did not fit."""
        return cls(
            kind,
            refusal.piece,
            refusal.edge,
            refusal.reason,
            refusal.possible,
            refusal.largest,
            refusal.dart,
        )

    def on(self, side: str) -> Self:
        """Return the refusal as that of one side of the body."""
        piece = f"{side}-{self.piece}" if self.piece else ""
        more = (self.edge, self.reason, self.possible, self.largest, self.dart)
        return type(self)(self.kind, piece, *more)

    @property
    def says(self) -> Said:
        """Return kind and place, the reason, and what would be possible."""
        place = f"{self.piece}.{self.edge}"
        return said("cannot-change", self.reason, self.possible, kind=self.kind, place=place)
