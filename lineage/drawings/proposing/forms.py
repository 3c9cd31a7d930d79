"""The pieces of the trade by the form of their outlines: which edge of which lies where.

Nothing here decides: what fits is proposed, and the maker says what it is.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import unit
from trueup.lineage.drawings.seen.found import FoundPiece, Notched, OutlineLine

_STRAIGHT = 0.035
_NEARLY = 0.09
_HOLLOW = 0.06
_WORST = 1.0
_LOW_ON_CAP = 0.15


@dataclass(frozen=True)
class SewnEdge:
    """Lines of an outline that run on into each other once the darts between are closed."""

    lines: tuple[OutlineLine | Notched, ...]
    inward: complex

    @property
    def parts(self) -> tuple[OutlineLine, ...]:
        """Return its lines, darts left out."""
        return tuple(line for line in self.lines if isinstance(line, OutlineLine))

    @property
    def darts(self) -> tuple[Notched, ...]:
        """Return its darts."""
        return tuple(line for line in self.lines if isinstance(line, Notched))

    @property
    def length(self) -> float:
        """Return its length as sewn, mm."""
        return sum(part.chain.length for part in self.parts)

    @property
    def hollow(self) -> float:
        """Return how far it bends into the cloth, as a share of its length; negative out of it.

        Of an edge parted by darts it is that of the part that bends most.
        """
        return max((_hollow(part.chain, self.inward) for part in self.parts), key=abs)

    @property
    def upright(self) -> float:
        """Return how nearly it runs up and down the page, from 0 to 1."""
        way = self.parts[-1].chain.end - self.parts[0].chain.start
        return abs(way.imag) / max(abs(way), 1e-9)

    @property
    def middle(self) -> complex:
        """Return the point between its ends."""
        return (self.parts[0].chain.start + self.parts[-1].chain.end) / 2


def _hollow(chain: Chain, inward: complex) -> float:
    way = chain.end - chain.start
    if abs(way) < 1e-9:
        return -1.0
    points = chain.flattened()
    aside = [((p - chain.start) / (way / abs(way) * inward)).real for p in points]
    return max(aside, key=abs) / abs(way)


def sewn_edges(piece: FoundPiece) -> tuple[SewnEdge, ...]:
    """Return the edges of a piece, in ring order: lines with the darts that part them."""
    inward = 1j if sum(line.chain.swept_area for line in piece.ring) > 0 else -1j
    ring = list(piece.ring)
    first = next(
        (
            k
            for k, line in enumerate(ring)
            if isinstance(line, OutlineLine) and isinstance(ring[k - 1], OutlineLine)
        ),
        None,
    )
    if first is None:
        return (SewnEdge(tuple(ring), inward),)
    edges: list[list[OutlineLine | Notched]] = []
    for line in (*ring[first:], *ring[:first]):
        after_side = bool(edges) and isinstance(edges[-1][-1], OutlineLine)
        if not edges or (isinstance(line, OutlineLine) and after_side):
            edges.append([])
        edges[-1].append(line)
    return tuple(SewnEdge(tuple(lines), inward) for lines in edges)


@dataclass(frozen=True)
class Form:
    """A kind of piece: its edges in order, and how badly an outline fits it, None for not at all.

    `corners` are the names of the corners at which its edges begin.
    """

    name: str
    edges: tuple[str, ...]
    fits: Callable[[Sequence[SewnEdge]], float | None]


def _misfit(wanted: Sequence[bool], softly: float) -> float | None:
    return softly if all(wanted) else None


def _bodice(ring: Sequence[SewnEdge]) -> float | None:
    neck, shoulder, armhole, side, hem, centre = ring
    return _misfit(
        (
            neck.hollow > _HOLLOW,
            armhole.hollow > _HOLLOW or bool(armhole.darts),
            abs(shoulder.hollow) < _NEARLY,
            abs(side.hollow) < _NEARLY,
            abs(centre.hollow) < _STRAIGHT,
            abs(hem.hollow) < 0.2,
            neck.length < armhole.length * 1.4,
            centre.length > shoulder.length,
            hem.length > shoulder.length * 0.8,
        ),
        abs(shoulder.hollow) + abs(side.hollow) + 2 * abs(centre.hollow) - centre.upright,
    )


def _sleeve(ring: Sequence[SewnEdge]) -> float | None:
    cap, back, hem, front = ring
    unlike = abs(back.length - front.length) / max(back.length, front.length)
    return _misfit(
        (
            cap.hollow < -0.15,
            abs(back.hollow) < _NEARLY,
            abs(front.hollow) < _NEARLY,
            unlike < 0.1,
            hem.length < cap.length,
            abs(hem.hollow) < 0.15,
        ),
        unlike + 0.001 * _fuller_in_front(cap, front),
    )


def _fuller_in_front(cap: SewnEdge, front: SewnEdge) -> bool:
    """Return whether a cap is fuller above the front seam: it is more hollow there."""
    chain = cap.parts[0].chain
    ends = [end for part in front.parts for end in (part.chain.start, part.chain.end)]
    from_start = min(abs(chain.start - end) for end in ends) < min(
        abs(chain.end - end) for end in ends
    )
    way = unit(chain.end - chain.start)
    lifts = [
        abs(((chain.point_at(share * chain.length) - chain.start) / way).imag)
        for share in (_LOW_ON_CAP, 1 - _LOW_ON_CAP)
    ]
    in_front, behind = lifts if from_start else lifts[::-1]
    return in_front > behind


def _skirt(ring: Sequence[SewnEdge]) -> float | None:
    waist, side, hem, centre = ring
    return _misfit(
        (
            bool(waist.darts) or waist.length < 0.9 * hem.length,
            not hem.darts,
            abs(centre.hollow) < 0.01,
            not centre.darts,
            -0.3 < side.hollow < 0.05,
            abs(side.hollow) > abs(centre.hollow) + 0.002 or side.upright < centre.upright - 0.001,
            waist.middle.imag < hem.middle.imag,
            centre.length > waist.length / 2,
        ),
        -len(waist.darts) - abs(side.hollow),
    )


def _trouser(ring: Sequence[SewnEdge]) -> float | None:
    waist, side, hem, inseam, crotch = ring
    return _misfit(
        (
            crotch.hollow > _HOLLOW,
            waist.middle.imag < crotch.middle.imag < inseam.middle.imag < hem.middle.imag,
            side.length > inseam.length,
            inseam.length > crotch.length,
            not hem.darts,
        ),
        -crotch.hollow,
    )


FORMS = (
    Form("bodice", ("neck", "shoulder", "armhole", "side", "hem", "centre"), _bodice),
    Form("sleeve", ("cap", "back-seam", "hem", "front-seam"), _sleeve),
    Form("skirt", ("waist", "side", "hem", "centre"), _skirt),
    Form("trouser", ("waist", "side", "hem", "inseam", "crotch"), _trouser),
)


def form_of(edges: Sequence[SewnEdge]) -> tuple[Form, tuple[SewnEdge, ...]] | None:
    """Return the form that an outline fits best, and its edges in the order of the form's."""
    fits = []
    for form in FORMS:
        if len(form.edges) != len(edges):
            continue
        for backwards in (False, True):
            ring = tuple(reversed(edges)) if backwards else tuple(edges)
            for first in range(len(ring)):
                turned = (*ring[first:], *ring[:first])
                misfit = form.fits(turned)
                if misfit is not None and misfit < _WORST:
                    fits.append((misfit, form, turned))
    if not fits:
        return None
    _, form, turned = min(fits, key=lambda fit: fit[0])
    return form, turned
