"""Propose what the lines of a drawing are: by what the maker wrote first, then by their form.

A proposal is only that. It is shown, corrected, and recorded when the maker says so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from trueup.lineage.drawings.proposing.marks import fresh, hole_names, line_names, own_word
from trueup.lineage.drawings.proposing.nearness import nearest_edge
from trueup.lineage.drawings.proposing.piece_names import (
    NamedBy,
    SeenPiece,
    neck_depth,
    numbered,
    piece_names,
)
from trueup.lineage.drawings.proposing.sewing import JOINS, LEVELS, ON_FOLD, SEAMS
from trueup.lineage.drawings.proposing.sewn_edges import SewnEdge
from trueup.lineage.drawings.seen.found import Found, Inner, Looks
from trueup.lineage.drawings.seen.words import (
    as_name,
    edge_word,
    level_word,
    says_fold,
    says_something,
)
from trueup.lineage.drawings.stating.stated import Stated, StatedPiece, StatedSeam

MATES_WITHIN = 0.5
"""mm; edges of pieces without known seams that are as equal as this are proposed to be sewn."""

_SHORTEST_SEAM = 50.0


@dataclass(frozen=True)
class ProposedNames:
    """What the lines of a drawing seem to be, and of each piece by what it is called so."""

    stated: Stated
    named_by: tuple[NamedBy, ...]


def propose(found: Found, given: Mapping[str, str]) -> ProposedNames:
    """Return what the lines of a drawing seem to be.

    `given` are names that the maker gives pieces; a piece keeps the proposed one here, and is
    taken for what the given one says.
    """
    seen = [SeenPiece.of(piece) for piece in found.pieces]
    names = piece_names(seen)
    pieces = tuple(
        _stated(each, name.name, given.get(name.name) or given.get(numbered(k), name.name))
        for k, (each, name) in enumerate(zip(seen, names, strict=True))
    )
    return ProposedNames(sewn(found, pieces), tuple(name.by for name in names))


def sewn(found: Found, pieces: tuple[StatedPiece, ...]) -> Stated:
    """Return named pieces with the seams and joins proposed for them."""
    there = {f"{piece.name}.{edge}" for piece in pieces for edge in piece.edges}
    seams = [seam for seam in SEAMS if there.issuperset((*seam.side, *seam.mate))]
    known = {edge.partition(".")[0] for seam in seams for edge in (*seam.side, *seam.mate)}
    seams += _mates(found, [piece for piece in pieces if piece.name not in known])
    joins = tuple(
        join
        for join in JOINS
        if {join.first.partition(" ")[0], join.second.partition(" ")[0]} <= there
    )
    return Stated(pieces, tuple(seams), joins)


def _mates(found: Found, pieces: Sequence[StatedPiece]) -> list[StatedSeam]:
    """Return seams of edges that are equal as sewn, where each has just one other like it."""
    lengths: dict[str, float] = {}
    sides = {side.number: side for piece in found.pieces for side in piece.sides}
    for piece in pieces:
        for edge, lines in piece.edges.items():
            name = f"{piece.name}.{edge}"
            length = sum(sides[line].chain.length for line in lines if line in sides)
            if edge != piece.fold and length >= _SHORTEST_SEAM:
                lengths[name] = length
    seams: list[StatedSeam] = []
    for name, length in lengths.items():
        like = [
            other
            for other, mm in lengths.items()
            if other != name
            and abs(mm - length) <= MATES_WITHIN
            and other.partition(".")[0] != name.partition(".")[0]
        ]
        if len(like) == 1 and name < like[0]:
            back = [o for o, mm in lengths.items() if abs(mm - lengths[like[0]]) <= MATES_WITHIN]
            if len(back) == 2:
                seams.append(StatedSeam(f"seam-{len(seams) + 1}", (name,), (like[0],)))
    return seams


# --- one piece ------------------------------------------------------------------------------------


def _stated(seen: SeenPiece, name: str, meant: str) -> StatedPiece:
    edges = _edge_names(seen)
    darts = _dart_names(seen, edges)
    named = dict(zip(edges, seen.edges, strict=True))
    fold = _fold(seen, edges, meant)
    levels = _levels(seen, darts)
    notches: dict[str, int] = {}
    for inner in seen.piece.inner:
        if inner.looks is Looks.NOTCH:
            where = own_word(inner) or nearest_edge(inner.chain.start, named)
            notches[fresh(where, notches)] = inner.number
    grains = [inner for inner in seen.piece.inner if inner.looks is Looks.GRAIN]
    told = [inner for inner in grains if inner.told or _has_word(inner)]
    grain = (told or grains)[0].number if len(told or grains) == 1 else None
    drawn = {word: number for word, (number, _) in darts.items()}
    return StatedPiece(
        name,
        {edge: tuple(part.number for part in sewn.parts) for edge, sewn in named.items()},
        drawn,
        notches=notches,
        levels=levels,
        holes=hole_names(seen.piece, drawn),
        lines=line_names(seen.piece),
        fold=fold,
        grain=grain,
    )


def _has_word(inner: Inner) -> bool:
    return any(says_something(label) for label in inner.labels)


def _edge_names(seen: SeenPiece) -> list[str]:
    """Return a name for each edge: what is written on it or by it, or that of the form."""
    written = [
        edge_word([label for part in edge.parts for label in part.labels]) for edge in seen.edges
    ]
    by_edge = dict(zip(map(str, range(len(seen.edges))), seen.edges, strict=True))
    for text, at in seen.piece.texts:
        word = edge_word([text])
        if word and word not in written:
            index = int(nearest_edge(at, by_edge))
            written[index] = written[index] or word
    names: list[str] = []
    for index, word in enumerate(written):
        by_form = seen.form.edges[index] if seen.form else None
        name = word or (by_form if by_form not in written else None) or f"edge-{index + 1}"
        names.append(name if name not in names else f"{name}-{index + 1}")
    return names


def _dart_names(seen: SeenPiece, edges: Sequence[str]) -> dict[str, tuple[int, SewnEdge]]:
    darts: dict[str, tuple[int, SewnEdge]] = {}
    for name, edge in zip(edges, seen.edges, strict=True):
        for dart in edge.darts:
            own = next((as_name(x) for x in dart.labels if says_something(x)), None)
            word = own or _dart_word(seen, name, dart.tip)
            taken = {each: number for each, (number, _) in darts.items()}
            darts[fresh(word, taken)] = (dart.number, edge)
    for inner in seen.piece.inner:
        if inner.looks is Looks.DOUBLE_DART:
            taken = {each: number for each, (number, _) in darts.items()}
            own = next((as_name(x) for x in inner.labels if says_something(x)), None)
            darts[fresh(own or "inner", taken)] = (inner.number, seen.edges[0])
    return darts


def _dart_word(seen: SeenPiece, edge: str, tip: complex) -> str:
    """Return what a dart is called by where it opens."""
    if not seen.is_a("bodice"):
        return _at_a_waist(seen, edge, tip)
    if edge == "hem":
        # Of two the one that lies nearer to the centre is the waist dart.
        centre, side = seen.edges[5].middle.real, seen.edges[3].middle.real
        inner = min((dart.tip.real for dart in seen.edges[4].darts), key=lambda x: abs(x - centre))
        beside = abs(tip.real - side) < abs(inner - side)
        return "waist-side" if beside else "waist"
    deep = (
        neck_depth(seen)
        > abs(seen.edges[0].parts[0].chain.start.real - seen.edges[0].parts[-1].chain.end.real) / 2
    )
    return "bust" if deep and edge in ("armhole", "side", "shoulder") else edge


def _at_a_waist(seen: SeenPiece, edge: str, tip: complex) -> str:
    """Return what a dart below the waist is called: of two at a waist, one lies nearer the side."""
    darts = seen.edges[0].darts
    if seen.form is None or edge != "waist" or len(darts) != 2:
        return edge
    side = seen.edge("side").parts
    ends = [end for part in side for end in (part.chain.start, part.chain.end)]
    away = [min(abs((dart.first + dart.second) / 2 - end) for end in ends) for dart in darts]
    nearer = darts[0 if away[0] < away[1] else 1]
    return "waist-side" if tip == nearer.tip else "waist"


def _fold(seen: SeenPiece, edges: Sequence[str], name: str) -> str | None:
    """Return the edge on the fold: the one a mirror line lies on, or the centre if one is said."""
    mirrors = [inner for inner in seen.piece.inner if inner.looks is Looks.FOLD]
    named = dict(zip(edges, seen.edges, strict=True))
    if mirrors:
        return nearest_edge(mirrors[0].chain.point_at(mirrors[0].chain.length / 2), named)
    folded = says_fold([text for text, _ in seen.piece.texts])
    straight = "centre" in named and abs(named["centre"].hollow) < 1e-3
    upright = straight and named["centre"].upright > 0.999
    return "centre" if upright and (folded or seen.is_a("bodice") or name in ON_FOLD) else None


def _levels(seen: SeenPiece, darts: dict[str, tuple[int, SewnEdge]]) -> dict[str, str]:
    levels = dict(LEVELS.get(seen.form.name, {})) if seen.form else {}
    if seen.is_a("bodice"):
        bust = [word for word in darts if "bust" in word]
        if bust:
            levels["bust"] = f"at dart {bust[0]}"
    for inner in seen.piece.inner:
        if inner.looks is Looks.LEVEL:
            word = level_word(inner.labels) or _beside(seen, inner)
            if word:
                levels[word] = f"line {inner.number}"
    return levels


def _beside(seen: SeenPiece, inner: Inner) -> str | None:
    """Return the level that a text on, or close above, a line names."""
    middle = (inner.chain.start + inner.chain.end) / 2
    near = [
        text
        for text, at in seen.piece.texts
        if abs(at.imag - middle.imag) < 15.0 and level_word([text])
    ]
    return level_word(near)
