"""Things stored in a file each: is such a file what its name says, and how is one written?"""

import hashlib
import os
import zlib
from pathlib import Path

from trueup.lineage.limits import LARGEST_FILE

_CHUNK = 1 << 16  # bytes
_KINDS = {b"blob", b"tree", b"commit", b"tag"}

_PLAIN = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)


def digest(kind: bytes, content: bytes, letters: int) -> str:
    """Return the id of a thing, of so many letters."""
    found = new_hash(letters)
    found.update(b"%s %d\0" % (kind, len(content)))
    found.update(content)
    return found.hexdigest()


def new_hash(letters: int) -> "hashlib._Hash":
    """Return a new hash whose digest has so many letters."""
    return hashlib.sha256() if letters == 64 else hashlib.sha1(usedforsecurity=False)


def packed(kind: bytes, content: bytes) -> bytes:
    """Return what the file of a stored thing holds."""
    return zlib.compress(b"%s %d\0" % (kind, len(content)) + content)


def is_sound(path: Path, name: str) -> bool:
    """Return whether a file holds exactly the thing that `name` is the id of.

    Raises `OSError` where it cannot be read.
    """
    with open(os.open(path, _PLAIN), "rb") as file:
        unpacker = zlib.decompressobj()
        try:
            start = unpacker.decompress(file.read(_CHUNK), _CHUNK)
            size = _size(start)
            if size is None:
                return False
            if size > LARGEST_FILE:
                return True  # nothing of ours reads it; a bomb is not unpacked
            seen, whole = new_hash(len(name)), start.index(b"\0") + 1 + size
            length = 0
            part = start
            while True:
                seen.update(part)
                length += len(part)
                if length > whole:
                    return False
                if unpacker.eof:
                    break
                more = unpacker.unconsumed_tail or file.read(_CHUNK)
                part = unpacker.decompress(more, _CHUNK)
                if not more and not part:
                    return False
        except zlib.error:
            return False
        is_all = not unpacker.unused_data and not file.read(1)
    return is_all and length == whole and seen.hexdigest() == name


def _size(start: bytes) -> int | None:
    head, ends, _ = start[:64].partition(b"\0")
    kind, _, number = head.partition(b" ")
    return int(number) if ends and kind in _KINDS and number.isdigit() else None
