"""Packs, which hold many things in one file: is one whole, and what can be had of a damaged one?"""

import os
import re
import shutil
import zlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path

from trueup.lineage.errors import CannotWrite, Damaged
from trueup.lineage.restoring.stored import loose, sealed
from trueup.lineage.restoring.stored.bench import Bench, bench
from trueup.lineage.store.git.quiet_git import QuietGit

_LINE = re.compile(rb"(\d+) ([0-9a-f]+) \(([0-9a-f]{8})\)")
MOST_ATTEMPTS = 2_000
"""So often git is started again behind a thing in a damaged pack that it could not read."""


@dataclass(frozen=True)
class Pack:
    """A pack by its files; either may be missing, and either unsound."""

    pack: Path | None
    index: Path | None
    is_sound: bool
    is_indexed: bool


def examined(pack: Path | None, index: Path | None, letters: int) -> Pack:
    """Return what a pack and its index are worth."""
    seal = sealed.seal_of(pack, letters) if pack else None
    listed = index is not None and sealed.seal_of(index, letters) is not None
    fits = listed and index is not None and sealed.pack_named_by(index, letters) == seal
    return Pack(pack, index, seal is not None, fits if seal is not None else listed)


def indexed_again(made: Bench, pack: Path, objects: Path) -> Path | None:
    """Return a new index of a sound pack, where git on the bench finds it; None where it cannot."""
    index = made.seen / pack.relative_to(objects).with_suffix(".idx")
    answer = made.git.ask("index-pack", "-o", str(index), str(pack))
    return index if answer.status == 0 else None


def salvaged(pack: Pack, letters: int) -> Iterator[tuple[str, bytes]]:
    """Yield the id of each thing that is whole in a damaged pack, with its file as one of its own.

    Each is checked against its id, and one after the other is read.
    """
    if pack.pack is None:
        return
    with bench(letters) as made:
        if pack.index is None or not pack.is_indexed:
            yield from _unpacked(made, pack.pack)
            return
        entries = _entries(made.git, pack.index)
        made.see([pack.index], pack.pack.parent.parent)
        copy = made.seen / "pack" / f"{pack.index.stem}.pack"
        _lay_out(copy, pack.pack, len(entries), sealed.pack_named_by(pack.index, letters))
        promising = _promising(entries, pack.pack)
        for object_id, kind, content in _read(made.git, promising):
            if loose.digest(kind, content, letters) == object_id:
                yield object_id, loose.packed(kind, content)


@dataclass(frozen=True)
class _Entry:
    """Where a thing begins in a pack, its id, and the sum of its packed bytes."""

    start: int
    id: str
    checksum: int


def _entries(git: QuietGit, index: Path) -> list[_Entry]:
    with index.open("rb") as file:
        answer = git.ask("show-index", feed=file)
    found = _LINE.finditer(answer.output)
    entries = [_Entry(int(each[1]), each[2].decode(), int(each[3], 16)) for each in found]
    return sorted(entries, key=lambda entry: entry.start)


def _lay_out(copy: Path, pack: Path, count: int, seal: bytes) -> None:
    """Copy a damaged pack such that git opens it: its first and last bytes are put right."""
    try:
        shutil.copyfile(pack, copy)
        with copy.open("r+b") as file:
            file.write(b"PACK" + (2).to_bytes(4, "big") + count.to_bytes(4, "big"))
            file.seek(0, os.SEEK_END)
            file.write(seal)
    except OSError as error:
        raise CannotWrite(str(copy), error.strerror or str(error)) from error


def _unpacked(made: Bench, pack: Path) -> Iterator[tuple[str, bytes]]:
    """Without an index only what stands before the damage can be told apart."""
    with pack.open("rb") as file:
        made.git.ask("unpack-objects", "-r", "-q", feed=file)
    for file_made in made.made():
        object_id = file_made.parent.name + file_made.name
        if loose.is_sound(file_made, object_id):
            yield object_id, file_made.read_bytes()


def _promising(entries: Sequence[_Entry], pack: Path) -> list[str]:
    """Return the things whose packed bytes are still those the index has a sum of."""
    promising = []
    with pack.open("rb") as packed:
        ends = packed.seek(0, os.SEEK_END)
        for entry, after in zip_longest(entries, entries[1:]):
            # The last one is followed by the digest of the pack.
            stop = after.start if after else ends - len(entry.id) // 2
            packed.seek(entry.start)
            if zlib.crc32(packed.read(max(0, stop - entry.start))) == entry.checksum:
                promising.append(entry.id)
    return promising


def _read(git: QuietGit, wanted: Iterable[str]) -> Iterator[tuple[str, bytes, bytes]]:
    """Yield id, kind and content of each that git can read; it ends at one that it cannot."""
    left = list(wanted)
    for _ in range(MOST_ATTEMPTS):
        if not left:
            return
        done = 0
        try:
            for found in _batch(git, left):
                done += 1
                if found is not None:
                    yield found
        except Damaged:
            pass
        if done == len(left):
            return
        left = left[done + 1 :]


def _batch(git: QuietGit, wanted: list[str]) -> Iterator[tuple[str, bytes, bytes] | None]:
    asked = "".join(f"{each}\n" for each in wanted).encode()
    with git.reading("cat-file", "--batch", feed=asked) as output:
        for object_id in wanted:
            header = output.readline().split()
            if len(header) == 2:
                yield None
                continue
            if len(header) != 3:
                raise Damaged(str(git.git_dir), f"{object_id} cannot be read")
            content = output.read(int(header[2]))
            if len(content) != int(header[2]):
                raise Damaged(str(git.git_dir), f"{object_id} cannot be read")
            output.read(1)
            yield object_id, header[1], content
