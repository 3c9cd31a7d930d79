"""Read a DXF drawing: by the layers of ASTM D6673 where its layers are numbered, or plain.

In DXF y goes up; a page has y down, so that a piece lies as it does on the screen.
"""

import io
import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from ezdxf import path, recover
from ezdxf.document import Drawing
from ezdxf.entities.mtext import MText
from ezdxf.entities.point import Point as PointEntity
from ezdxf.entities.text import Text as TextEntity
from ezdxf.lldxf.const import DXFError
from ezdxf.math import Vec3

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point
from trueup.geometry.tolerance import DRAWN_TOGETHER, SAME_POINT
from trueup.lineage.drawings.shapes.dxf.description import KEY, described
from trueup.lineage.drawings.shapes.dxf.entities import Placed, laid_out
from trueup.lineage.drawings.shapes.dxf.layers import CURVE_POINTS, TOLD, TURN_POINTS
from trueup.lineage.drawings.shapes.dxf.scale import scale_of
from trueup.lineage.drawings.shapes.near import Near
from trueup.lineage.drawings.shapes.shape import Shape, ShapePage, Spot, Text, Told
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import FARTHEST, LARGEST_DXF, MOST_DXF_LINES, MOST_FLAT, MOST_POINTS

_LINES = frozenset(
    ("LINE", "LWPOLYLINE", "POLYLINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "HELIX")
)
_ARCS = 16
_LEVEL = 8
"""No curve stands for more than a sixteenth of a circle, a spline is halved so often: it
strays from the line drawn by less than a thousandth of a mm."""

_NEAR = 0.05
_KEPT = KEY.encode()
_PASSED_OVER = frozenset(("VIEWPORT", "DIMENSION", "HATCH", "ATTDEF", "SEQEND", "WIPEOUT"))


@dataclass
class _Reading:
    place: str
    mm: float
    shapes: list[Shape] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    spots: list[Spot] = field(default_factory=list)
    turns: list[tuple[tuple[str, ...], Point]] = field(default_factory=list)
    left_out: Counter[str] = field(default_factory=Counter)
    points: int = 0


def read_dxf(content: bytes, place: str) -> ShapePage:
    """Return the lines, points and texts of a DXF drawing; `place` is what a message calls it.

    A damaged file is mended as far as ezdxf can, which is told. Raises BadRecord.
    """
    _require_moderate(content, place)
    document, mended = _opened(content, place)
    try:
        placed = list(laid_out(document, place))
        written = [_says(each) for each in placed if _is_text(each)]
        scale = scale_of(document, (line for lines in written for line in lines))
        reading = _Reading(place, scale.mm)
        hidden = {
            layer.dxf.name for layer in document.layers if layer.is_off() or layer.is_frozen()
        }
        by_standard = any(each.layer == "1" for each in placed)
        for each in placed:
            if each.layer in hidden:
                reading.left_out["hidden in the drawing"] += 1
            else:
                _take(reading, each, by_standard=by_standard)
    except (ArithmeticError, AttributeError, IndexError, KeyError, TypeError, ValueError) as error:
        # ezdxf trips in its own ways over values that are none.
        raise BadRecord(place, f"a part of it cannot be read{_because(error)}") from None
    notes = [
        f"{count} of its lines were left out: {why}." for why, count in reading.left_out.items()
    ]
    if mended:
        notes.insert(0, f"It was damaged; {mended} faults in it were mended, so look it over.")
    shapes = _cornered(reading.shapes, reading.turns)
    return ShapePage(
        tuple(shapes),
        tuple(reading.texts),
        tuple(reading.spots),
        scale.says,
        scale.is_sized,
        tuple(notes),
    )


def described_in(content: bytes, place: str) -> str | None:
    """Return what a DXF of ours says of its draft, None where it is none or was redrawn since.

    Raises BadRecord.
    """
    if _KEPT not in content:
        return None
    _require_moderate(content, place)
    document, mended = _opened(content, place)
    return None if mended else described(document)


def _require_moderate(content: bytes, place: str) -> None:
    if len(content) > LARGEST_DXF:
        raise BadRecord(place, f"it is larger than {LARGEST_DXF // 1_000_000} MB")
    if content.count(b"\n") > MOST_DXF_LINES:
        raise BadRecord(place, f"it has more than {MOST_DXF_LINES} lines of text")


def _opened(content: bytes, place: str) -> tuple[Drawing, int]:
    """Return a document, and how many faults in it were mended."""
    head = content[:4096].lstrip()
    if not (head.startswith((b"0", b"999", b"AutoCAD Binary DXF"))):
        raise BadRecord(place, "it is no DXF drawing")
    try:
        document, auditor = recover.read(io.BytesIO(content))
    except Exception as error:  # whatever ezdxf makes of a stranger's file
        raise BadRecord(place, f"it cannot be read as DXF, nor mended{_because(error)}") from None
    return document, len(auditor.errors) + len(auditor.fixes)


def _because(error: Exception) -> str:
    """Return what ezdxf says is wrong; of an error of Python's own, what helps instead."""
    if isinstance(error, DXFError) and str(error):
        return f": {str(error)[:80]}"
    return "; save it anew, as a DXF of another version, in the program that drew it"


def _take(reading: _Reading, placed: Placed, *, by_standard: bool) -> None:
    kind = placed.entity.dxftype()
    told = TOLD.get(placed.layer) if by_standard else None
    groups = (*placed.blocks, placed.layer) if not by_standard else placed.blocks
    if _is_text(placed):
        at = _at(reading, placed.entity.dxf.insert)
        lines = _says(placed)
        reading.texts += [Text(line, at + complex(0, k), groups) for k, line in enumerate(lines)]
    elif isinstance(placed.entity, PointEntity):
        at = _at(reading, placed.entity.dxf.location)
        if by_standard and placed.layer in (TURN_POINTS, CURVE_POINTS):
            if placed.layer == TURN_POINTS:
                reading.turns.append((placed.blocks, at))
        else:
            name = f"point-{len(reading.spots) + 1}"
            reading.spots.append(Spot(name, at, groups, told))
    elif kind in _LINES:
        _take_line(reading, placed, groups, told)
    elif kind not in _PASSED_OVER:
        reading.left_out[f"a {kind} is none that is traced"] += 1


def _take_line(
    reading: _Reading, placed: Placed, groups: tuple[str, ...], told: Told | None
) -> None:
    entity = placed.entity
    drawn = path.make_path(entity, segments=_ARCS, level=_LEVEL)
    flat = [_at(reading, point) for point in (drawn.start, *drawn.control_vertices()[1:])]
    reading.points += len(flat)
    if len(flat) > MOST_POINTS:
        line = f"a {entity.dxftype()} on layer {placed.layer[:40]}"
        raise BadRecord(reading.place, f"{line} has more than {MOST_POINTS} points")
    if reading.points > MOST_FLAT:
        raise BadRecord(reading.place, f"its lines have more than {MOST_FLAT} points")
    cubics, here = [], _at(reading, drawn.start)
    for command in drawn.commands():
        there = _at(reading, command.end)
        if len(command) == 3:
            one, other = _at(reading, command.ctrl1), _at(reading, command.ctrl2)
            cubics.append(Cubic(here, one, other, there))
        elif len(command) == 2:
            middle = _at(reading, command.ctrl)
            cubics.append(
                Cubic(here, here + (middle - here) * 2 / 3, there + (middle - there) * 2 / 3, there)
            )
        else:
            cubics.append(Cubic.line(here, there))
        here = there
    cubics = [cubic for cubic in cubics if cubic.span > SAME_POINT]
    if not cubics:
        return
    chain = Chain.joining([Chain((cubic,)) for cubic in cubics])
    is_closed = bool(drawn.is_closed) or abs(chain.end - chain.start) <= DRAWN_TOGETHER
    is_closed = is_closed and chain.length > 3 * DRAWN_TOGETHER
    if is_closed:
        chain = chain.ending_at(chain.start)
    handle = entity.dxf.get("handle") or ""
    name = f"line-{len(reading.shapes) + 1}"
    where = f"the {entity.dxftype()} {handle or name} on layer {placed.layer}"
    reading.shapes.append(Shape(name, chain, is_closed, groups, (), where, told))


def _at(reading: _Reading, point: Vec3) -> Point:
    x, y = point.x * reading.mm, point.y * reading.mm
    if not (math.isfinite(x) and math.isfinite(y) and max(abs(x), abs(y)) <= FARTHEST):
        raise BadRecord(reading.place, f"a point of it lies farther off than {FARTHEST:g} mm")
    return complex(x, -y)


def _is_text(placed: Placed) -> bool:
    return isinstance(placed.entity, TextEntity | MText)


def _says(placed: Placed) -> list[str]:
    entity = placed.entity
    if isinstance(entity, MText):
        lines = entity.plain_text(split=True)
    else:
        lines = [entity.plain_text()] if isinstance(entity, TextEntity) else []
    return [" ".join(line.split())[:200] for line in lines if line.strip()]


def _cornered(
    shapes: Iterable[Shape], turns: Iterable[tuple[tuple[str, ...], Point]]
) -> list[Shape]:
    """Return the shapes with the turn points of their blocks that lie on them as corners."""
    by_block: dict[tuple[str, ...], list[Point]] = {}
    for block, at in turns:
        by_block.setdefault(block, []).append(at)
    found = []
    for shape in shapes:
        ends = Near((cubic.start for cubic in shape.chain.cubics), _NEAR)
        near = [at for at in by_block.get(shape.groups, ()) if ends.has(at)]
        found.append(
            Shape(
                shape.id,
                shape.chain,
                shape.is_closed,
                shape.groups,
                shape.labels,
                shape.place,
                shape.told,
                tuple(near),
            )
        )
    return found
