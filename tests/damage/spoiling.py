"""Ways in which a file of a wardrobe comes to harm."""

from collections.abc import Callable, Mapping
from pathlib import Path

Spoil = Callable[[Path], None]


def _emptied(place: Path) -> None:
    _write(place, b"")


def _halved(place: Path) -> None:
    _write(place, place.read_bytes()[: place.stat().st_size // 2])


def _zeros(place: Path) -> None:
    _write(place, bytes(place.stat().st_size))


def _flipped(share: float) -> Spoil:
    def flip(place: Path) -> None:
        content = bytearray(place.read_bytes())
        if content:
            content[int(share * (len(content) - 1))] ^= 4
        _write(place, bytes(content))

    return flip


def _exchanged(place: Path) -> None:
    """Put another digit in the place of the first letter: an id stays one, of something else."""
    content = place.read_bytes()
    _write(place, (b"1" if content.startswith(b"0") else b"0") + content[1:])


def _folder(place: Path) -> None:
    place.unlink()
    place.mkdir()


def _linked(place: Path) -> None:
    """Move the file elsewhere, and leave a link that leads to it."""
    elsewhere = place_outside(place)
    elsewhere.write_bytes(place.read_bytes())
    place.unlink()
    place.symlink_to(elsewhere)


def _linked_to_nothing(place: Path) -> None:
    place.unlink()
    place.symlink_to(place_outside(place) / "nothing")


def place_outside(place: Path) -> Path:
    """Return where a moved file lies: beside the wardrobe and its clone, in `outside`."""
    for folder in place.parents:
        if (folder / "outside").is_dir():
            return folder / "outside" / "moved"
    raise ValueError(f"{place} has no place outside")


def _write(place: Path, content: bytes) -> None:
    mode = place.stat().st_mode
    place.chmod(0o644)
    place.write_bytes(content)
    place.chmod(mode)


MANNERS: Mapping[str, Spoil] = {
    "emptied": _emptied,
    "halved": _halved,
    "zeros": _zeros,
    "flipped at the start": _flipped(0.0),
    "flipped in the middle": _flipped(0.5),
    "flipped at the end": _flipped(1.0),
    "first letter exchanged": _exchanged,
    "deleted": lambda place: place.unlink(),
    "a folder": _folder,
    "a link": _linked,
    "a link to nothing": _linked_to_nothing,
    "unreadable": lambda place: place.chmod(0),
    "read-only": lambda place: place.chmod(0o444),
    "in a read-only folder": lambda place: place.parent.chmod(0o555),
}
"""Each spoils one file."""


def files_of(folder: Path) -> list[str]:
    """Return every file of a wardrobe, git's own among them."""
    return sorted(p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file())
