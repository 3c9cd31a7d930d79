"""Which files a maker may have edited, and which of them matter to a reader."""

from collections.abc import Mapping

from trueup.lineage.files.bodies.reading import is_body_file
from trueup.lineage.files.garment_files import is_garment_file
from trueup.lineage.files.reading import is_node_file

SETTINGS_FILE = "wardrobe.toml"

Edits = Mapping[str, bytes | None]
"""Files edited by hand, by their paths; None for one that was deleted."""


def is_of_record(path: str) -> bool:
    """Return whether a file says in words what a wardrobe holds: no drawing, no photo."""
    is_one = (is_node_file, is_garment_file, is_body_file)
    return path == SETTINGS_FILE or any(each(path) for each in is_one)


def is_read(path: str) -> bool:
    """Return whether edits of a file matter to a reader, as those of a photo do not."""
    is_drawing = path.startswith(("blocks/", "garments/")) and path.endswith(".svg")
    return is_of_record(path) or is_drawing
