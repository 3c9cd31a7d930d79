"""Which of the things stored in a repository are sound, each checked against its own id."""

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from trueup.lineage.restoring.stored import loose, packs, sealed
from trueup.lineage.restoring.stored.bench import Bench
from trueup.lineage.restoring.stored.packs import Pack

_FOLDER = re.compile(r"[0-9a-f]{2}")
_REST = re.compile(r"[0-9a-f]{38}(?:[0-9a-f]{24})?")
_QUICK = ("pack/*.rev", "pack/*.bitmap", "pack/multi-pack-index", "info/commit-graph")


@dataclass(frozen=True)
class Stored:
    """What was found: folders and files that are sound, and each that is not.

    `quick` are damaged files that git only keeps to be quick.
    """

    folders: tuple[Path, ...]
    files: tuple[Path, ...]
    damaged: tuple[Path, ...]
    packs: tuple[Pack, ...]
    quick: tuple[Path, ...]


def survey(objects: Path, letters: int) -> Stored:
    """Look at every stored thing."""
    folders, files, damaged = [], [], []
    for folder in _folders(objects):
        found = {path: _is_sound(path, name) for path, name in _things(folder, letters)}
        if all(found.values()):
            folders += [folder] if found else []
        else:
            files += [path for path, is_sound in found.items() if is_sound]
            damaged += [path for path, is_sound in found.items() if not is_sound]
    quick = [path for form in _QUICK for path in sorted(objects.glob(form)) if _is_within(path)]
    return Stored(
        tuple(folders),
        tuple(files),
        tuple(damaged),
        tuple(_packs(objects / "pack", letters)),
        tuple(path for path in quick if sealed.seal_of(path, letters) is None),
    )


def lay_out(made: Bench, stored: Stored, objects: Path) -> None:
    """Let git see on the bench all that is sound; raises `CannotWrite`."""
    made.see((*stored.folders, *stored.files), objects)
    for each in stored.packs:
        if each.pack and each.index and each.is_sound and each.is_indexed:
            made.see([each.pack, each.index], objects)
        elif each.pack and each.is_sound:
            made.see([each.pack], objects)


def loose_name(path: Path) -> str:
    """Return the id of a thing by its file."""
    return path.parent.name + path.name


def _is_sound(path: Path, name: str) -> bool:
    try:
        return loose.is_sound(path, name)
    except OSError:
        return False  # the disk does not give it


def _folders(objects: Path) -> Iterator[Path]:
    if not _is_folder(objects):
        return
    for entry in sorted(os.scandir(objects), key=lambda entry: entry.name):
        if _FOLDER.fullmatch(entry.name) and entry.is_dir(follow_symlinks=False):
            yield Path(entry.path)


def _things(folder: Path, letters: int) -> Iterator[tuple[Path, str]]:
    for entry in os.scandir(folder):
        name = folder.name + entry.name
        is_thing = _REST.fullmatch(entry.name) and len(name) == letters
        if is_thing and entry.is_file(follow_symlinks=False):
            yield Path(entry.path), name


def _packs(folder: Path, letters: int) -> Iterator[Pack]:
    if not _is_folder(folder):
        return
    stems: dict[str, dict[str, Path]] = {}
    for entry in os.scandir(folder):
        stem, _, ending = entry.name.rpartition(".")
        is_part = ending in ("pack", "idx") and stem.startswith("pack-")
        if is_part and entry.is_file(follow_symlinks=False):
            stems.setdefault(stem, {})[ending] = Path(entry.path)
    for _, found in sorted(stems.items()):
        yield packs.examined(found.get("pack"), found.get("idx"), letters)


def _is_folder(path: Path) -> bool:
    return path.is_dir() and not path.is_symlink()


def _is_within(path: Path) -> bool:
    return path.is_file() and not path.is_symlink() and not path.parent.is_symlink()
