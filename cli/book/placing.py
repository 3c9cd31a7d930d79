"""Where a book may lie: anywhere but among the files of its wardrobe."""

from pathlib import Path

from cli.failures import Misused
from lineage.store.paths import is_owned


def require_beside(wardrobe: Path, file: Path) -> None:
    """Raise Misused for a file that would be taken for an edit by hand, and become a step."""
    place, own = file.resolve(), wardrobe.resolve()
    if place.is_relative_to(own) and is_owned(place.relative_to(own).as_posix()):
        raise Misused(
            f"{file} lies among the wardrobe's own files, and your next step would take it up; "
            "write it beside their folders or outside the wardrobe."
        )
