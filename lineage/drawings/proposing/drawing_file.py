"""Open a drawing of any kind and look it over: the size it states, its lines, what they seem."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import PurePath

from trueup.lineage.drawings.photographs.frame.dictionary import require_library
from trueup.lineage.drawings.photographs.frame.strips import REACH
from trueup.lineage.drawings.photographs.kind import is_picture
from trueup.lineage.drawings.proposing.naming import named
from trueup.lineage.drawings.proposing.proposing import propose
from trueup.lineage.drawings.proposing.sizing import (
    readable_scale,
    require_size,
    scale_by,
    scaled,
    turned_over,
)
from trueup.lineage.drawings.seen.found import Found
from trueup.lineage.drawings.seen.looking import look_over
from trueup.lineage.drawings.shapes.dxf.reading import read_dxf
from trueup.lineage.drawings.shapes.shape import ShapePage
from trueup.lineage.drawings.shapes.svg.reading import read_svg
from trueup.lineage.drawings.stating.stated import Stated
from trueup.lineage.errors import BadRecord

DXF = ".dxf"


@dataclass(frozen=True)
class LookedAt:
    """What is seen in a drawing, and what its lines are proposed to be."""

    found: Found
    stated: Stated


def read_shapes(content: bytes, source: str, reach: float = REACH) -> ShapePage:
    """Return the lines of a drawing in SVG, in DXF where its name ends so, or in a photograph.

    `reach` is that of the strips laid round what was photographed, mm, as they were printed. Raises
    BadRecord; CannotMeasure and LibraryMissing for a photograph.
    """
    if is_picture(content, source):
        require_library()
        # What looks at pictures takes long to load, and no other drawing waits for it.
        from trueup.lineage.drawings.photographs.photograph import photographed  # noqa: PLC0415

        return photographed(content, source, reach).page
    if PurePath(source).suffix.lower() == DXF:
        return read_dxf(content, source)
    return read_svg(content, source)


def looked_over(
    page: ShapePage,
    source: str,
    names: Mapping[str, str],
    measures: Mapping[str, float],
    stated: Stated | None = None,
    *,
    over: bool | None = None,
) -> LookedAt:
    """Return a page looked over at the size that `measures` give it (mm, by the names of lines).

    `names` and `stated` go before what is proposed. `over` says to turn the page over, left for
    right, or not to where its texts read backwards. Raises BadRecord.
    """
    if page.is_mirrored and over is None:
        raise BadRecord(
            source,
            "its axes are mirrored, for its texts read backwards; say --turned-over to turn it "
            "left for right, or --as-drawn",
        )
    if over:
        page = turned_over(page)
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
        if scale != 1.0:
            found = look_over(page, source)
            proposed = stated or propose(found)
    return LookedAt(found, named(found, proposed, names, source))
