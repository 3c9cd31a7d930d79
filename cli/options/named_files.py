"""Files of the wardrobe, as a maker names them on the command line."""

from pathlib import Path


def inside(folder: Path | None, name: str) -> str:
    """Return the name of a file as the wardrobe has it, whether it was given from there or here."""
    place, root = Path(name).absolute(), (folder or Path()).absolute()
    return place.relative_to(root).as_posix() if place.is_relative_to(root) else name
