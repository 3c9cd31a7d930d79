"""Open a drawing of any kind and look it over: the size it states, its lines, what they seem."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import PurePath

from trueup.lineage.drawings.proposing.naming import named
from trueup.lineage.drawings.proposing.proposing import propose
from trueup.lineage.drawings.proposing.sizing import (
    readable_scale,
    require_size,
    scale_by,
    scaled,
)
from trueup.lineage.drawings.seen.found import Found
from trueup.lineage.drawings.seen.looking import look_over
from trueup.lineage.drawings.shapes.dxf.reading import read_dxf
from trueup.lineage.drawings.shapes.shape import ShapePage
from trueup.lineage.drawings.shapes.svg.reading import read_svg
from trueup.lineage.drawings.stating.stated import Stated

DXF = ".dxf"


@dataclass(frozen=True)
class LookedAt:
    """What is seen in a drawing, and what its lines are proposed to be."""

    found: Found
    stated: Stated


def read_shapes(content: bytes, source: str) -> ShapePage:
    """Return the lines of a drawing in SVG, or in DXF where its name ends so; raises BadRecord."""
    if PurePath(source).suffix.lower() == DXF:
        return read_dxf(content, source)
    return read_svg(content, source)


def looked_over(
    page: ShapePage,
    source: str,
    names: Mapping[str, str],
    measures: Mapping[str, float],
    stated: Stated | None = None,
) -> LookedAt:
    """Return a page looked over at the size that `measures` give it (mm, by the names of lines).

    `names` and `stated` go before what is proposed. Raises BadRecord.
    """
    scale = readable_scale(page)
    found = look_over(scaled(page, scale), source)
    proposed = stated or propose(found)
    if measures:
        told = proposed if stated else named(found, proposed, names, source)
        factor, says = scale_by(found, told, measures, scale, source)
        found = look_over(scaled(page, scale * factor), source)
        found = replace(found, size=f"{found.size}; {says}", is_sized=True)
        proposed = stated or propose(found)
        require_size(found, 1.0, source)
    else:
        require_size(found, scale, source)
    return LookedAt(found, named(found, proposed, names, source))
