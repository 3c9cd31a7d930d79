"""The pieces of the trade by the form of their outlines: which edge of which lies where.

A form is the same whichever way up a piece lies on the page. Nothing here decides: what fits is
proposed, and the maker says what it is.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from trueup.geometry.lines.points import dot, unit
from trueup.lineage.drawings.proposing.sewn_edges import SewnEdge, sewn_edges
from trueup.lineage.drawings.seen.found import FoundPiece

_STRAIGHT = 0.035
_NEARLY = 0.09
_HOLLOW = 0.06
_WORST = 1.0
_LOW_ON_CAP = 0.15
_FLARED = -0.1
_UPRIGHT_FIRST = 0.01


@dataclass(frozen=True)
class Form:
    """A kind of piece: its edges in order, and how badly an outline fits it, None for not at all.

    `up` says which way on the page leads up the body, by its edges.
    """

    name: str
    edges: tuple[str, ...]
    fits: Callable[[Sequence[SewnEdge]], float | None]
    up: Callable[[Sequence[SewnEdge]], complex]


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
        abs(shoulder.hollow) + abs(side.hollow) + 2 * abs(centre.hollow) - _straight_up(centre),
    )


def _straight_up(centre: SewnEdge) -> float:
    """Return how nearly a centre runs along a side of the page; of two, up the page goes before."""
    return centre.square + _UPRIGHT_FIRST * centre.upright


def _up_the_centre(ring: Sequence[SewnEdge]) -> complex:
    top, centre = ring[0], ring[-1]
    first = centre.parts[0].chain.start
    ends = [end for part in top.parts for end in (part.chain.start, part.chain.end)]
    to_start = min(abs(first - end) for end in ends) < min(
        abs(first + centre.way - end) for end in ends
    )
    return -centre.way if to_start else centre.way


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


def _square_to(level: SewnEdge, way: complex) -> complex:
    """Return the direction square to the ends of an edge that leads the same way as another."""
    square = unit(level.way) * 1j
    return square if dot(square, way) > 0 else -square


def _up_to_the_cap(ring: Sequence[SewnEdge]) -> complex:
    cap, _, hem, _ = ring
    return _square_to(cap, cap.middle - hem.middle)


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
    slanted = side.upright < centre.upright - 0.001 or side.square < centre.square - 0.001
    return _misfit(
        (
            bool(waist.darts) or waist.length < 0.9 * hem.length,
            not hem.darts,
            hem.hollow > _FLARED or waist.hollow > abs(hem.hollow) / 2,
            abs(centre.hollow) < 0.01,
            not centre.darts,
            -0.3 < side.hollow < 0.05,
            abs(side.hollow) > abs(centre.hollow) + 0.002 or slanted,
            centre.length > waist.length / 2,
        ),
        -len(waist.darts) - abs(side.hollow) - _straight_up(centre),
    )


def _trouser(ring: Sequence[SewnEdge]) -> float | None:
    waist, side, hem, inseam, crotch = ring
    up = _up_the_leg(ring)
    heights = [dot(edge.middle, up) for edge in (hem, inseam, crotch, waist)]
    return _misfit(
        (
            crotch.hollow > _HOLLOW,
            heights == sorted(heights),
            side.length > inseam.length,
            inseam.length > crotch.length,
            not hem.darts,
        ),
        -crotch.hollow,
    )


def _up_the_leg(ring: Sequence[SewnEdge]) -> complex:
    waist, _, hem, _, _ = ring
    return _square_to(hem, waist.middle - hem.middle)


FORMS = (
    Form(
        "bodice",
        ("neck", "shoulder", "armhole", "side", "hem", "centre"),
        _bodice,
        _up_the_centre,
    ),
    Form("sleeve", ("cap", "back-seam", "hem", "front-seam"), _sleeve, _up_to_the_cap),
    Form("skirt", ("waist", "side", "hem", "centre"), _skirt, _up_the_centre),
    Form("trouser", ("waist", "side", "hem", "inseam", "crotch"), _trouser, _up_the_leg),
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


def form_name(piece: FoundPiece) -> str | None:
    """Return what the form of a piece is called, None where it has none of the trade's."""
    found = form_of(sewn_edges(piece))
    return found[0].name if found else None
