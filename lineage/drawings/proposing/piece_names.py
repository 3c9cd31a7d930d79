"""What a piece of a drawing is called: by what the maker wrote, or by its form where that tells.

Of two pieces of one form the front is told from the back by what is common practice, no source: its
neck is cut deeper; its dart at the waist is the shorter, or takes in less; its crotch is shorter.
Where nothing tells, nothing is taken: the piece keeps a number for a name.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from trueup.lineage.drawings.proposing.forms import Form, form_of
from trueup.lineage.drawings.proposing.sewn_edges import SewnEdge, sewn_edges
from trueup.lineage.drawings.seen.found import FoundPiece
from trueup.lineage.drawings.seen.words import as_name, below_word, piece_word, says_something

_TELLS_DART, _TELLS_CROTCH = 2.0, 5.0
"""mm by which a dart, or a crotch, is longer than the other's so that it tells front from back."""

_SEWN_ALIKE = 0.03
"""Share by which lines that are sewn together may differ in a front and a back that belong."""


class NamedBy(StrEnum):
    """What a piece is called by."""

    WRITTEN = "written"
    ONLY_ONE = "only-one"
    NECK = "neck"
    DART = "dart"
    CROTCH = "crotch"
    THE_OTHER = "the-other"
    NOTHING = "nothing"


@dataclass(frozen=True)
class SeenPiece:
    """A piece with its edges as sewn, and the form it has, if it is one of the trade's."""

    piece: FoundPiece
    form: Form | None
    edges: tuple[SewnEdge, ...]

    @classmethod
    def of(cls, piece: FoundPiece) -> "SeenPiece":
        """Return a piece with the form that its edges have."""
        edges = sewn_edges(piece)
        found = form_of(edges)
        return cls(piece, found[0], found[1]) if found else cls(piece, None, edges)

    def is_a(self, form: str) -> bool:
        """Return whether it has a form."""
        return self.form is not None and self.form.name == form

    def edge(self, name: str) -> SewnEdge:
        """Return an edge by the name that it has in its form."""
        assert self.form is not None
        return self.edges[self.form.edges.index(name)]


@dataclass(frozen=True)
class PieceName:
    """The name proposed for a piece, and what it is called so by."""

    name: str
    by: NamedBy


def piece_names(seen: Sequence[SeenPiece]) -> list[PieceName]:
    """Return a name for each piece, no two alike."""
    named = [_written(each, seen) for each in seen]
    _by_form(seen, named)
    given: list[PieceName] = []
    for index, found in enumerate(named):
        name = found.name if found else numbered(index)
        taken, count = {each.name for each in given}, 2
        while name in taken:
            name, count = f"{found.name if found else 'piece'}-{count}", count + 1
        given.append(PieceName(name, found.by if found else NamedBy.NOTHING))
    return given


def numbered(index: int) -> str:
    """Return what a piece without a name is called, the first of them piece-1."""
    return f"piece-{index + 1}"


def _written(each: SeenPiece, seen: Sequence[SeenPiece]) -> PieceName | None:
    common = Counter(label for one in seen for label in set(one.piece.labels))
    own = [x for x in each.piece.labels if common[x] == 1 and says_something(x)]
    texts = [text for text, _ in each.piece.texts]
    words = [piece_word(text) for text in (*own, *texts)]
    told = next((word for word in words if word), None)
    name = told or next((as_name(x) for x in own if as_name(x)), None)
    if name in ("front", "back"):
        below = next((word for x in each.piece.labels if (word := below_word(x))), None)
        if each.form is not None:
            below = each.form.name if each.form.name in ("skirt", "trouser") else None
        name = f"{below}-{name}" if below else name
    return PieceName(name, NamedBy.WRITTEN) if name else None


def _by_form(seen: Sequence[SeenPiece], named: list[PieceName | None]) -> None:
    """Name pieces without a name by their form, where there is only one way to."""
    taken = {each.name for each in named if each}
    sleeves = [k for k, each in enumerate(seen) if named[k] is None and each.is_a("sleeve")]
    if len(sleeves) == 1 and "sleeve" not in taken:
        named[sleeves[0]] = PieceName("sleeve", NamedBy.ONLY_ONE)
    for form, front, back, told in _PAIRS:
        pair = [k for k, each in enumerate(seen) if each.is_a(form)]
        if len(pair) == 2:
            _name_pair(seen, named, (pair[0], pair[1]), (front, back), told)


def _name_pair(
    seen: Sequence[SeenPiece],
    named: list[PieceName | None],
    pair: tuple[int, int],
    names: tuple[str, str],
    told: "_Telling",
) -> None:
    """Name two pieces of one form: by what is written on one of them, or by what tells them."""
    found = told(seen[pair[0]], seen[pair[1]])
    written = [each.name if (each := named[k]) else None for k in pair]
    for place, k in enumerate(pair):
        other = written[1 - place]
        if named[k] is not None:
            continue
        if other in names:
            proposed = PieceName(names[1 - names.index(other)], NamedBy.THE_OTHER)
        elif found is not None:
            is_front = (place == 0) == found.first_is_front
            proposed = PieceName(names[0 if is_front else 1], found.by)
        else:
            continue
        if proposed.name not in {each.name for each in named if each}:
            named[k] = proposed


@dataclass(frozen=True)
class _Told:
    """What tells a front from a back, and whether the first of two is the front."""

    by: NamedBy
    first_is_front: bool


def neck_depth(seen: SeenPiece) -> float:
    """Return how deep a neck is cut, mm: that of a front is the deeper one."""
    return abs(seen.edge("neck").way.imag)


def _by_neck(one: SeenPiece, other: SeenPiece) -> _Told:
    return _Told(NamedBy.NECK, neck_depth(one) >= neck_depth(other))


def _by_dart(one: SeenPiece, other: SeenPiece) -> _Told | None:
    if not _alike(one.edge("side"), other.edge("side")):
        return None
    longer = _longest_dart(other) - _longest_dart(one)
    wider = _intake(other) - _intake(one)
    told = [more > 0 for more in (longer, wider) if abs(more) > _TELLS_DART]
    return _Told(NamedBy.DART, told[0]) if told and len({*told}) == 1 else None


def _longest_dart(seen: SeenPiece) -> float:
    darts = seen.edge("waist").darts
    return max((abs(dart.tip - (dart.first + dart.second) / 2) for dart in darts), default=0.0)


def _intake(seen: SeenPiece) -> float:
    return sum(abs(dart.first - dart.second) for dart in seen.edge("waist").darts)


def _by_crotch(one: SeenPiece, other: SeenPiece) -> _Told | None:
    if not (
        _alike(one.edge("side"), other.edge("side"), 2.0)
        and _alike(one.edge("inseam"), other.edge("inseam"), 2.0)
    ):
        return None
    longer = other.edge("crotch").length - one.edge("crotch").length
    return _Told(NamedBy.CROTCH, longer > 0) if abs(longer) > _TELLS_CROTCH else None


def _alike(one: SewnEdge, other: SewnEdge, times: float = 1.0) -> bool:
    return abs(one.length - other.length) <= times * _SEWN_ALIKE * max(one.length, other.length)


_Telling = Callable[[SeenPiece, SeenPiece], _Told | None]

_PAIRS: tuple[tuple[str, str, str, _Telling], ...] = (
    ("bodice", "front", "back", _by_neck),
    ("skirt", "skirt-front", "skirt-back", _by_dart),
    ("trouser", "trouser-front", "trouser-back", _by_crotch),
)
