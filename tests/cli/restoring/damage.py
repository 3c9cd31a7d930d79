"""What a disk, a crash or a careless hand does to a file."""

from collections.abc import Callable, Mapping
from pathlib import Path


def emptied(file: Path) -> None:
    _writable(file).write_bytes(b"")


def halved(file: Path) -> None:
    content = file.read_bytes()
    _writable(file).write_bytes(content[: len(content) // 2])


def zeros(file: Path) -> None:
    _writable(file).write_bytes(bytes(file.stat().st_size))


def flipped(file: Path) -> None:
    """One byte in the middle is another."""
    content = bytearray(file.read_bytes())
    if content:
        content[len(content) // 2] ^= 0x55
    _writable(file).write_bytes(content)


def deleted(file: Path) -> None:
    file.unlink()


def folder(file: Path) -> None:
    file.unlink()
    file.mkdir()
    (file / "inside.txt").write_text("somebody put this here")


def link(file: Path) -> None:
    file.unlink()
    file.symlink_to("/etc/hostname")


DAMAGES: Mapping[str, Callable[[Path], None]] = {
    each.__name__: each for each in (emptied, halved, zeros, flipped, deleted, folder, link)
}


def _writable(file: Path) -> Path:
    file.chmod(0o644)
    return file
