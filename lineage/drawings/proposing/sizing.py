"""How large a drawing is: what it states, held against a line whose length the maker knows."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from trueup.geometry.lines.points import Point
from trueup.geometry.said import said
from trueup.lineage.drawings.seen.found import Found
from trueup.lineage.drawings.shapes.shape import ShapePage
from trueup.lineage.drawings.stating.stated import Stated
from trueup.lineage.errors import BadRecord

SMALLEST, LARGEST = 40.0, 4000.0
"""mm; no garment has its largest piece smaller, or larger, than this."""

_WITHIN = 0.005
"""Share by which a measured line may differ from the drawn one: what a tape on paper tells."""

_STEPS = (1.0, 10.0, 0.1, 25.4, 1 / 25.4, 100.0, 0.01, 1000.0, 0.001)
_USUAL = (150.0, 1500.0)
_MIXED_UP = (10.0, 25.4, 2.54, 96 / 72, 96 / 90, 100.0, 1000.0)


def scaled(page: ShapePage, by: float) -> ShapePage:
    """Return a page made larger by a factor, about its corner."""
    if by == 1.0:
        return page
    return _mapped(page, lambda point: point * by)


def turned_over(page: ShapePage) -> ShapePage:
    """Return a page turned over, left for right."""
    return _mapped(page, lambda point: -point.conjugate())


def _mapped(page: ShapePage, way: Callable[[Point], Point]) -> ShapePage:
    return replace(
        page,
        shapes=tuple(
            replace(shape, chain=shape.chain.mapped(way), corners=tuple(map(way, shape.corners)))
            for shape in page.shapes
        ),
        texts=tuple(replace(text, at=way(text.at)) for text in page.texts),
        spots=tuple(replace(spot, at=way(spot.at)) for spot in page.spots),
    )


def readable_scale(page: ShapePage) -> float:
    """Return a factor that brings a page to a size at which its lines can be looked over."""
    points = [cubic.end for shape in page.shapes for cubic in shape.chain.cubics]
    if not points:
        return 1.0
    wide = max(p.real for p in points) - min(p.real for p in points)
    high = max(p.imag for p in points) - min(p.imag for p in points)
    extent = max(wide, high)
    least = SMALLEST if page.is_sized else _USUAL[0]
    if least <= extent <= 2 * LARGEST or extent == 0:
        return 1.0
    low, most = _USUAL
    return next((step for step in _STEPS if low <= extent * step <= 2 * most), low * 3 / extent)


def require_size(found: Found, scale: float, place: str) -> None:
    """Refuse pieces of a size that no garment has; raises BadRecord that asks for a measure."""
    largest = found.largest / scale
    if not SMALLEST <= largest <= LARGEST:
        raise BadRecord(place, said("pieces-of-a-size", largest=largest))


def scale_by(
    found: Found, stated: Stated, measures: Mapping[str, float], scale: float, place: str
) -> tuple[float, str]:
    """Return the factor by which a drawing as seen is made as large as its measures say.

    It is seen `scale` times as large as it was read. Also what is to be told of it. Raises
    BadRecord where measures contradict each other, or what the drawing states of its size.
    """
    factors = {
        name: wanted / _length(found, stated, name, place) for name, wanted in measures.items()
    }
    name, factor = next(iter(factors.items()))
    for other, each in factors.items():
        if abs(each / factor - 1) > _WITHIN:
            share = f"{abs(each / factor - 1) * 100:.1f}"
            reason = f"by its length the drawing is {share} % larger or smaller than by {name}"
            raise BadRecord(place, reason, field=other)
    real = factor * scale
    if abs(real - 1) <= _WITHIN:
        return 1 / scale, f"{name} is as long as you measured: the size of the drawing holds"
    mixed = any(
        abs(real * step - 1) < _WITHIN or abs(real / step - 1) < _WITHIN for step in _MIXED_UP
    )
    absurd = not SMALLEST <= found.largest / scale <= LARGEST
    if found.is_sized and not (mixed or absurd):
        drawn = measures[name] / real
        differs = said("not-as-measured", drawn=drawn, wanted=measures[name])
        raise BadRecord(place, differs, field=name)
    return factor, f"by {name} the drawing was made {real:.4g} times as large as it states"


def _length(found: Found, stated: Stated, name: str, place: str) -> float:
    """Return how long a line is that a maker names by number, by name or as "front side"."""
    lengths = {
        str(line.number): line.chain.length
        for piece in found.pieces
        for line in (*piece.ring, *piece.inner)
    }
    if name in lengths:
        return lengths[name]
    edges = {
        f"{piece.name}.{edge}": sum(lengths[str(line)] for line in lines)
        for piece in stated.pieces
        for edge, lines in piece.edges.items()
    }
    if name in edges:
        return edges[name]
    words = [word for word in name.lower().split() if word != "seam"]
    met = {e: mm for e, mm in edges.items() if set(words) <= {*e.replace(".", "-").split("-"), e}}
    if met and max(met.values()) - min(met.values()) <= _WITHIN * max(met.values()):
        return sum(met.values()) / len(met)
    known = ", ".join((*met, *edges)[:8]) or "1"
    raise BadRecord(
        place, f"it names no line, or lines of several lengths; name one of {known}", field=name
    )
