"""Open a drawing of any kind and look it over: the size it states, its lines, what they seem."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import PurePath

from trueup.lineage.drawings.photographs.frame.dictionary import require_library
from trueup.lineage.drawings.photographs.frame.strips import REACH
from trueup.lineage.drawings.photographs.kind import is_picture
from trueup.lineage.drawings.proposing.forms import form_name
from trueup.lineage.drawings.proposing.naming import named
from trueup.lineage.drawings.proposing.piece_names import NamedBy
from trueup.lineage.drawings.proposing.proposing import propose
from trueup.lineage.drawings.proposing.sizing import (
    readable_scale,
    require_size,
    scale_by,
    scaled,
    turned_over,
)
from trueup.lineage.drawings.proposing.upright import upright
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
    """What is seen in a drawing, and what its lines are proposed to be.

    Of each piece in order `named_by` says by what it is called so, None where the maker says it,
    `forms` which of the trade's it looks like, and `turns` by how many degrees it was turned to
    stand upright, clockwise.
    """

    found: Found
    stated: Stated
    forms: tuple[str | None, ...]
    named_by: tuple[NamedBy | None, ...]
    turns: tuple[float, ...]


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
    look = _looks(page, source, names, stated)
    seen = look(scale)
    if measures:
        told = seen.stated if stated else named(seen.found, seen.stated, names, source)
        factor, says = scale_by(seen.found, told, measures, scale, source)
        seen = look(scale * factor)
        found = replace(seen.found, size=f"{seen.found.size}; {says}", is_sized=True)
        seen = replace(seen, found=found)
        require_size(found, 1.0, source)
    else:
        require_size(seen.found, scale, source)
        if scale != 1.0:
            seen = look(1.0)
    settled = named(seen.found, seen.stated, names, source)
    by = tuple(
        by if settled.pieces[k].name == seen.stated.pieces[k].name else None
        for k, by in enumerate(seen.named_by)
    )
    return replace(seen, stated=settled, named_by=by)


def _looks(
    page: ShapePage, source: str, names: Mapping[str, str], stated: Stated | None
) -> Callable[[float], LookedAt]:
    def look(scale: float) -> LookedAt:
        """Return what is seen in a page made so many times as large, its pieces upright."""
        standing = upright(look_over(scaled(page, scale), source))
        found = standing.found
        forms = tuple(form_name(piece) for piece in found.pieces)
        if stated is not None:
            return LookedAt(found, stated, forms, (None,) * len(stated.pieces), standing.turns)
        proposed = propose(found, names)
        return LookedAt(found, proposed.stated, forms, proposed.named_by, standing.turns)

    return look
