"""What can go wrong in the geometry, as one small tree.

    GeometryError
        BadLength       a text or a number that is not a usable length
        BadPosition     a text that is no place on an edge, or a place the edge does not reach
        BadParameter    a change, draft or seam was given a value it cannot use
        BrokenOutline   curves, edges or darts that do not close into a piece
        NoSuchName      a piece, edge, dart, corner, level, seam or measure that is not there
        CannotChange    a change the geometry cannot carry out at its amounts

Every error keeps its facts as attributes, and its ``str()`` is one sentence that says what is
wrong, where, and what to do instead.
"""

from collections.abc import Sequence
from difflib import get_close_matches

_LONGEST_QUOTE = 40


class GeometryError(Exception):
    """Root of everything the geometry refuses; catch this to catch them all.

    `unit` is the one the maker reads lengths in, where that is known; a sentence has them in mm.
    """

    unit = "mm"


class BadLength(GeometryError):
    """A text that cannot be read as a length, or a number that cannot be a length.

    ``text`` is what was given, in full; ``reason`` says what is wrong with it; ``remedy`` says
    what would be understood instead.

    >>> str(BadLength("12ft", "ft is not a known unit", "use mm, cm or in"))
    '"12ft" is not a length: ft is not a known unit; use mm, cm or in.'
    """

    def __init__(self, text: str, reason: str, remedy: str) -> None:
        super().__init__(text, reason, remedy)
        self.text = text
        self.reason = reason
        self.remedy = remedy

    def __str__(self) -> str:
        return f'"{shown(self.text)}" is not a length: {self.reason}; {self.remedy}.'


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

    def __init__(self, text: str, remedy: str) -> None:
        super().__init__(text, remedy)
        self.text = text
        self.remedy = remedy

    def __str__(self) -> str:
        return f'"{shown(self.text)}" is not a place on an edge: {self.remedy}.'


class BadParameter(GeometryError):
    """A parameter with a value that makes no sense; `name`, `value` and what would do."""

    def __init__(self, name: str, value: object, remedy: str) -> None:
        super().__init__(name, value, remedy)
        self.name = name
        self.value = value
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.name} cannot be {shown(str(self.value))}: {self.remedy}."


class BrokenOutline(GeometryError):
    """Curves, edges or darts that do not close into a piece."""


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

    def __str__(self) -> str:
        article = "an" if self.what[0] in "aeiou" else "a"
        start = f'"{shown(self.name)}" is not {article} {self.what} of {self.where}'
        if not self.candidates:
            return f"{start}: it has none."
        return f"{start}; try {', '.join(self.nearest)}."


class CannotChange(GeometryError):
    """A change that the geometry cannot carry out at its amounts.

    `kind` of change, `piece`, `edge` (a name of one of the piece's edges or darts), the `reason`,
    and what would be `possible`, as a clause that ends the sentence. `largest` is the amount in mm
    that could still be carried out, where there is one, and `dart` the name of the dart of that
    piece that is in the way, where one is.
    """

    def __init__(
        self,
        kind: str,
        piece: str,
        edge: str,
        reason: str,
        possible: str,
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

    def __str__(self) -> str:
        place = f"{self.piece}.{self.edge}"
        return f"{self.kind} cannot be done on {place}: {self.reason}; {self.possible}."
