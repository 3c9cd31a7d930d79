"""What is to be done to a wardrobe, as values: planned first, then carried out in this order."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Aside:
    """Move what stands at a place out of the way, whatever it is."""

    place: str


@dataclass(frozen=True)
class Folder:
    """Make a folder that is missing."""

    place: str


@dataclass(frozen=True)
class Write:
    """Write a new file where none stands."""

    place: str
    content: bytes


@dataclass(frozen=True)
class Bring:
    """Bring a file made elsewhere to where none stands."""

    source: Path
    place: str


@dataclass(frozen=True)
class PutBack:
    """Write a stored content, by its id, where no file stands."""

    place: str
    content: str


@dataclass(frozen=True)
class TakeAway:
    """Take away what git was writing when it was killed; nothing can need it."""

    place: str


@dataclass(frozen=True)
class Allow:
    """Allow its owner to read a file or folder, and to write it."""

    place: str


Act = Aside | Folder | Write | Bring | PutBack | TakeAway | Allow
