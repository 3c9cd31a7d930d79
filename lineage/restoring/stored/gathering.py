"""Gather on the bench all that is sound in a repository, and plan what becomes of the rest."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from trueup.lineage.restoring.acts import Act, Aside, Bring
from trueup.lineage.restoring.findings import Cure, Trouble, Wrong
from trueup.lineage.restoring.stored import packs
from trueup.lineage.restoring.stored.bench import Bench
from trueup.lineage.restoring.stored.packs import Pack
from trueup.lineage.restoring.stored.survey import Stored, lay_out, loose_name, survey

PLACE = ".git/objects"

Planned = tuple[Trouble, tuple[Act, ...]]


@dataclass(frozen=True)
class Gathered:
    """What is wrong with the files of stored things; `damaged` are the ids that lay in one each."""

    planned: tuple[Planned, ...]
    damaged: tuple[str, ...]


def gather(made: Bench, objects: Path, letters: int) -> Gathered:
    """Lay out what is sound, index packs again, and take out of damaged packs what is whole.

    Raises `OSError` where something cannot be read, `CannotWrite` without room for it.
    """
    stored = survey(objects, letters)
    lay_out(made, stored, objects)
    planned: list[Planned] = [
        (Trouble(Wrong.OBJECT, _place(path, objects), Cure.ASIDE), (_aside(path, objects),))
        for path in stored.damaged
    ]
    for pack in stored.packs:
        if not (pack.is_sound and pack.is_indexed and pack.pack):
            planned.append(_of_pack(made, pack, objects, letters))
    planned += _of_what_is_quick(stored, objects, bool(planned))
    return Gathered(tuple(planned), tuple(map(loose_name, stored.damaged)))


def _of_pack(made: Bench, pack: Pack, objects: Path, letters: int) -> Planned:
    if pack.pack is None:
        assert pack.index is not None
        place = _place(pack.index, objects)
        return Trouble(Wrong.PACK, place, Cure.ASIDE), (_aside(pack.index, objects),)
    place = _place(pack.pack, objects)
    old = tuple(_aside(path, objects) for path in _companions(pack.pack))
    index = packs.indexed_again(made, pack.pack, objects) if pack.is_sound else None
    if index is not None:
        name = f"{PLACE}/pack/{index.name}"
        return Trouble(Wrong.PACK, place, Cure.ANEW), (*old, Bring(index, name))
    count = 0
    for object_id, content in packs.salvaged(pack, letters):
        made.put(object_id, content)
        count += 1
    cure = Cure.FROM_PACK if count else Cure.ASIDE
    return Trouble(Wrong.PACK, place, cure), (_aside(pack.pack, objects), *old)


def _of_what_is_quick(stored: Stored, objects: Path, has_damage: bool) -> Iterator[Planned]:
    """Yield what git keeps to be quick; none of it may outlive what it was made from."""
    everything = [*objects.glob("pack/multi-pack-index"), *objects.glob("info/commit-graph")]
    for path in sorted({*stored.quick, *(everything if has_damage else ())}):
        yield Trouble(Wrong.DERIVED, _place(path, objects), Cure.ASIDE), (_aside(path, objects),)


def _companions(pack: Path) -> list[Path]:
    """Return the files that were made from a pack."""
    endings = (".idx", ".rev", ".bitmap", ".mtimes")
    return [path for ending in endings if (path := pack.with_suffix(ending)).exists()]


def _place(path: Path, objects: Path) -> str:
    return f"{PLACE}/{path.relative_to(objects).as_posix()}"


def _aside(path: Path, objects: Path) -> Aside:
    return Aside(_place(path, objects))
