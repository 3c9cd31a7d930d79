"""Files of git's that end in a digest of all before it: the index, packs, and what speeds it up."""

import os
from pathlib import Path

from trueup.lineage.restoring.stored.loose import new_hash

_CHUNK = 1 << 20  # bytes
_PLAIN = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)


def seal_of(path: Path, letters: int) -> bytes | None:
    """Return the digest a file ends in if it fits the file; None where it does not.

    `letters` is the length of an id. A file that the disk does not give fits none.
    """
    try:
        return _seal_of(path, letters)
    except OSError:
        return None


def _seal_of(path: Path, letters: int) -> bytes | None:
    width = letters // 2
    seen = new_hash(letters)
    with open(os.open(path, _PLAIN), "rb") as file:
        left = os.fstat(file.fileno()).st_size - width
        if left <= 0:
            return None
        while left > 0:
            part = file.read(min(_CHUNK, left))
            if not part:
                return None
            seen.update(part)
            left -= len(part)
        seal = file.read(width)
    return seal if seal == seen.digest() else None


def pack_named_by(index: Path, letters: int) -> bytes:
    """Return the digest of the pack that an index of a pack belongs to."""
    width = letters // 2
    with open(os.open(index, _PLAIN), "rb") as file:
        file.seek(-2 * width, os.SEEK_END)
        return file.read(width)
