"""By which names a block has what a style names otherwise: as said, held against both drafts."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from trueup.geometry.calling.other_names import CORNER, DART, with_corners
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.errors import CannotStep

_EDGE = "edge"


@dataclass(frozen=True)
class _Known:
    """All that drafts have names for: pieces and seams, then edges, darts and corners of pieces."""

    whole: tuple[str, ...]
    parts: Mapping[str, tuple[str, ...]]

    @classmethod
    def of(cls, drafts: Iterable[Draft]) -> "_Known":
        """Return the names that any of some drafts has."""
        whole: dict[str, None] = {}
        parts: dict[str, dict[str, None]] = {_EDGE: {}, DART: {}, CORNER: {}}
        for draft in drafts:
            whole |= dict.fromkeys((*draft.piece_names, *(seam.name for seam in draft.seams)))
            parts[_EDGE] |= dict.fromkeys(draft.edge_names)
            parts[DART] |= dict.fromkeys(draft.dart_names)
            for piece in draft.pieces:
                corners = (f"{piece.name}.{edge.starts_at}" for edge in piece.edges)
                parts[CORNER] |= dict.fromkeys(corners)
        return cls(tuple(whole), {what: tuple(names) for what, names in parts.items()})

    def require(self, what: str, name: str, where: str) -> None:
        """Raise NoSuchName, with the candidates, for a name that is not among those of its kind."""
        known = self.parts[what] if what else self.whole
        if name not in known:
            raise NoSuchName(what or "piece or seam", name, where, known)

    def kind_of(self, name: str, where: str) -> str:
        """Return what a name with its piece is of: an edge, a dart or a corner, the first of them.

        Raises NoSuchName with the edges and darts there are.
        """
        for what, names in self.parts.items():
            if name in names:
                return what
        raise NoSuchName("edge or dart", name, where, (*self.parts[_EDGE], *self.parts[DART]))


def names_there(
    given: Mapping[str, str],
    style: str,
    theirs: Sequence[Draft],
    block: str,
    ours: Draft,
    graft: str,
) -> dict[str, str]:
    """Return names of a `style` by what a `block` calls the same, as `given`, and their corners.

    `theirs` are the drafts that the style's steps are made on. Where two pieces have edges that
    are called otherwise, they are called so themselves. Raises NoSuchName with the candidates, and
    CannotStep, of the `graft` to be made, where two names would be one.
    """
    if not given:
        return {}
    there, here = _Known.of(theirs), _Known.of([ours])
    names: dict[str, str] = {}
    for their, our in given.items():
        what, name = _taken_apart(their)
        if "." not in name:
            there.require("", name, style)
            here.require("", our, block)
            names[name] = our
            continue
        what = what or there.kind_of(name, style)
        there.require(what, name, style)
        called = _taken_apart(our)[1]
        here.require(what, called, block)
        names[_told(what, name)] = _told(what, called)
    for their, our in tuple(names.items()):
        if "." in their:
            names.setdefault(their.partition(".")[0], our.partition(".")[0])
    _require_apart(names, graft)
    return with_corners(names, theirs, ours)


def _taken_apart(name: str) -> tuple[str, str]:
    """Return what a name says it is of, if it does, and the name: front.dart.bust is front.bust."""
    match name.split("."):
        case [piece, ("dart" | "corner" | "edge") as what, word]:
            return what, f"{piece}.{word}"
    return "", name


def _told(what: str, name: str) -> str:
    if what == _EDGE:
        return name
    piece, _, word = name.partition(".")
    return f"{piece}.{what}.{word}"


def _require_apart(names: Mapping[str, str], graft: str) -> None:
    by: dict[str, str] = {}
    for their, our in names.items():
        first = by.setdefault(our, their)
        if first != their:
            reason = f"{our} cannot be both {first} and {their}; give each a name of its own"
            raise CannotStep(graft, reason)
        piece, dot, _ = their.partition(".")
        if dot and names[piece] != our.partition(".")[0]:
            reason = f"{their} cannot be {our}, for {piece} is {names[piece]}"
            raise CannotStep(graft, f"{reason}; name it on that piece")
