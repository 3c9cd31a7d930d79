"""What a DXF of ours says of its own draft, in a record that other programs keep or drop.

It holds as long as no line was redrawn: the record tells how the lines lay, by sums over the points
of each block, and where these are others the lines are what counts.
"""

from collections.abc import Iterator

from ezdxf.document import Drawing
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.dxfobj import XRecord
from ezdxf.lldxf.types import dxftag
from ezdxf.math import Vec3

from trueup.lineage.limits import LARGEST_DRAWING

KEY = "TRUEUP_DRAFT"
"""The name of the record."""

_CHUNK = 240
_TEXT, _NUMBER = 1, 40
_SAME = 0.005
"""mm by which points may lie elsewhere on the average, as another program rounds them."""


def describe(document: Drawing, text: str) -> None:
    """Put a text into a document that `described` returns while its lines lie as they do now."""
    record = document.rootdict.add_xrecord(KEY)
    tags = [dxftag(_TEXT, text[k : k + _CHUNK]) for k in range(0, len(text), _CHUNK)]
    record.tags.extend([*tags, *(dxftag(_NUMBER, amount) for amount in _sums(document))])


def described(document: Drawing) -> str | None:
    """Return what a document says of its draft; None where it does not, or was redrawn."""
    record = document.rootdict.get(KEY)
    if not isinstance(record, XRecord):
        return None
    tags = list(record.tags)
    text = "".join(str(tag.value) for tag in tags if tag.code == _TEXT)
    kept = [float(tag.value) for tag in tags if tag.code == _NUMBER]
    sums = _sums(document)
    if len(text) > LARGEST_DRAWING or len(kept) != len(sums):
        return None
    count = max(sums[0], 1.0)
    same = all(abs(a - b) <= _SAME * count for a, b in zip(kept, sums, strict=True))
    return text if same else None


def _sums(document: Drawing) -> list[float]:
    """Return how many points there are, and for each block sums over where they lie."""
    sums = [0.0]
    for block in sorted(document.blocks, key=lambda block: block.name):
        points = [point for entity in block for point in _points(entity)]
        if block.name.startswith("*") or not points:
            continue
        sums[0] += len(points)
        # Each point counts by its place in the block, so that no two can change places.
        sums += [sum(p.x for p in points), sum(p.y for p in points)]
        sums += [sum((k % 7) * (p.x - p.y) for k, p in enumerate(points))]
        sums += [sum(abs(p.x) + abs(p.y) for p in points)]
    return sums


def _points(entity: DXFGraphic) -> Iterator[Vec3]:
    match entity.dxftype():
        case "LINE":
            yield from (entity.dxf.start, entity.dxf.end)
        case "POINT":
            yield entity.dxf.location
        case "POLYLINE":
            yield from (Vec3(vertex.dxf.location) for vertex in getattr(entity, "vertices", ()))
        case "LWPOLYLINE":
            yield from (Vec3(point) for point in getattr(entity, "vertices", list)())
