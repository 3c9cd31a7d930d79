"""Lay out the entities of a DXF drawing: what stands in blocks, where it is inserted."""

from collections.abc import Iterator
from dataclasses import dataclass

from ezdxf.document import Drawing
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.insert import Insert

from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import DEEPEST_USE, MOST_DRAWN


@dataclass(frozen=True)
class Placed:
    """An entity where it lies on the page, the blocks it stands in, and its layer."""

    entity: DXFGraphic
    blocks: tuple[str, ...]
    layer: str


def laid_out(document: Drawing, place: str) -> Iterator[Placed]:
    """Yield all that stands on the page, in its order, blocks taken apart.

    Where nothing does, as in files that are only libraries of pieces, the blocks themselves.
    Raises BadRecord for more than any pattern holds.
    """
    page = list(document.modelspace())
    if not page:
        blocks = [block for block in document.blocks if not block.name.startswith("*")]
        for block in blocks:
            yield from _laid(list(block), (block.name,), place)
        return
    yield from _laid(page, (), place)


def _laid(entities: list[DXFGraphic], blocks: tuple[str, ...], place: str) -> Iterator[Placed]:
    waiting = [(entity, blocks, "0") for entity in reversed(entities)]
    met = 0
    while waiting:
        entity, within, above = waiting.pop()
        met += 1
        if met > MOST_DRAWN:
            raise BadRecord(place, f"it holds more than {MOST_DRAWN} parts once laid out")
        own = str(entity.dxf.get("layer", "0"))
        layer = above if own == "0" and within else own
        if not isinstance(entity, Insert):
            yield Placed(entity, within, layer)
            continue
        if len(within) >= DEEPEST_USE:
            raise BadRecord(place, f"its blocks stand in one another more than {DEEPEST_USE} deep")
        if entity.mcount > 1:
            if met + entity.mcount > MOST_DRAWN:
                raise BadRecord(place, f"it holds more than {MOST_DRAWN} parts once laid out")
            waiting += [(each, within, layer) for each in entity.multi_insert()]
            continue
        block = entity.block()
        if block is None:
            continue
        if met + len(waiting) + len(block) > MOST_DRAWN:
            raise BadRecord(place, f"it holds more than {MOST_DRAWN} parts once laid out")
        inside = [*entity.virtual_entities(), *entity.attribs]
        waiting += [(each, (*within, entity.dxf.name), layer) for each in reversed(inside)]
