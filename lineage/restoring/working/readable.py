"""Can a file of the wardrobe be read? Each is asked of whoever reads files of its kind."""

from collections.abc import Iterable
from dataclasses import dataclass

from trueup.geometry.errors import GeometryError
from trueup.geometry.said import Said
from trueup.lineage.drawings.outline import read_outline
from trueup.lineage.drawings.tracing.trace import kept_draft
from trueup.lineage.errors import BadRecord, WardrobeError
from trueup.lineage.files.bodies.reading import is_body_file, read_body
from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.garment_files import is_garment_file, read_garment
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.pictures import require_picture
from trueup.lineage.files.reading import is_node_file, read_node, read_settings
from trueup.lineage.files.records import NEWEST_FORMAT, NodeRecord, Settings
from trueup.lineage.files.tables.toml_text import NoTables, tables_in
from trueup.lineage.limits import LARGEST_RECORD
from trueup.lineage.store.files.paths import SETTINGS

Record = Settings | NodeRecord | GarmentRecord | BodyRecord


class Newer(Exception):
    """A file of a later format than this program reads: it is not damaged."""


def is_record(path: str) -> bool:
    """Return whether a path holds the settings, a node, a garment or a body."""
    is_one = (is_node_file, is_garment_file, is_body_file)
    return path == SETTINGS or any(each(path) for each in is_one)


def why_unreadable(path: str, content: bytes) -> Said | str | None:
    """Return why a record cannot be read, as the end of a sentence; None where it can.

    Raises `Newer`.
    """
    try:
        record_in(path, content)
    except BadRecord as error:
        if _is_newer(content):
            raise Newer from error
        return error.reason
    return None


def record_in(path: str, content: bytes) -> Record:
    """Return what a record says; raises BadRecord."""
    if path == SETTINGS:
        return read_settings(path, content)
    if is_body_file(path):
        return read_body(path, content)
    return read_garment(path, content) if is_garment_file(path) else read_node(path, content)


@dataclass(frozen=True)
class Beside:
    """The files that records speak of: drawings of traced blocks, outlines of cut cloth, photos."""

    drawings: frozenset[str] = frozenset()
    outlines: frozenset[str] = frozenset()
    photos: frozenset[str] = frozenset()

    @property
    def needed(self) -> frozenset[str]:
        """Return those without which a block or a garment is not whole."""
        return self.drawings | self.outlines

    def why_unreadable(self, path: str, content: bytes) -> str | None:
        """Return why such a file cannot be read; None where it can, and for any other file."""
        try:
            if path in self.drawings:
                _read_drawing(path, content)
            elif path in self.outlines:
                read_outline(content, path)
            elif path in self.photos:
                require_picture(path, content)
        except (WardrobeError, GeometryError) as error:
            return str(getattr(error, "reason", error))
        return None


def beside(records: Iterable[Record]) -> Beside:
    """Return the files that records speak of."""
    drawings: set[str] = set()
    outlines: set[str] = set()
    photos: set[str] = set()
    for each in records:
        if isinstance(each, NodeRecord) and each.traced:
            drawings.add(each.drawing_path)
        elif isinstance(each, GarmentRecord):
            outlines.update(each.outline_paths)
            photos |= {note.photo for note in each.notes if note.photo}
    return Beside(frozenset(drawings), frozenset(outlines), frozenset(photos))


def _read_drawing(path: str, content: bytes) -> None:
    try:
        kept_draft(content.decode("utf-8"), path)
    except UnicodeDecodeError:
        raise BadRecord(path, "it is not UTF-8 text") from None


def _is_newer(content: bytes) -> bool:
    try:
        version = tables_in(content, LARGEST_RECORD).get("format")
    except NoTables:
        return False
    return isinstance(version, int) and not isinstance(version, bool) and version > NEWEST_FORMAT
