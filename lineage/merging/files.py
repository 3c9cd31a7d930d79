"""From a joined state to the files to write, keeping what each side wrote beside the records."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from trueup.lineage.errors import Damaged, NoSuchFile
from trueup.lineage.files.bodies.reading import is_body_file, read_body
from trueup.lineage.files.bodies.writing import body_text
from trueup.lineage.files.garment_files import is_garment_file, read_garment
from trueup.lineage.files.garment_writing import garment_text
from trueup.lineage.files.reading import is_node_file, read_node, read_settings
from trueup.lineage.files.state import State
from trueup.lineage.files.writing import node_text
from trueup.lineage.merging.states import SETTINGS_FILE
from trueup.lineage.merging.three_way import Note
from trueup.lineage.store import Store
from trueup.lineage.store.joins.merge_errors import CannotJoin

Read = Callable[[str, bytes], Any]
Write = Callable[[Any, bytes | None], bytes]


@dataclass(frozen=True)
class Versions:
    """The files of the two sides and of the version both come from, by path and content id."""

    store: Store
    base: str
    ours: str
    theirs: str

    @cached_property
    def listings(self) -> tuple[Mapping[str, str], ...]:
        """The files of base, ours and theirs."""
        return tuple(self.store.listing(each) for each in (self.base, self.ours, self.theirs))

    def blobs(self, path: str) -> tuple[str | None, ...]:
        """Return the content ids of a file in base, ours and theirs."""
        return tuple(listing.get(path) for listing in self.listings)

    def texts(self, path: str) -> tuple[bytes | None, ...]:
        """Return a file in base, ours and theirs."""
        blobs = self.blobs(path)
        read = self.store.read({blob for blob in blobs if blob})
        return tuple(read[blob] if blob else None for blob in blobs)


def files_of(versions: Versions, state: State) -> tuple[dict[str, bytes | None], tuple[Note, ...]]:
    """Return what to write over our version to hold a joined state, and what is said of it.

    Raises CannotJoin for a file that is no list of changes and that both sides changed.
    """
    store = versions.store
    special = store.special_files(versions.base, versions.theirs)
    if special:
        raise CannotJoin(
            special[0],
            "the other side put a link or a foreign repository there",
            "take it out there, or join with `git merge` and have that looked over afterwards",
        )
    writes: dict[str, bytes | None] = {}
    notes: list[Note] = []
    records = {node.path: node for node in state.nodes.values()}
    garments = {garment.path: garment for garment in state.garments.values()}
    bodies = {body.path: body for body in state.bodies.values()}
    base, ours, theirs = versions.listings
    for path in sorted({*base, *ours, *theirs, *records, *garments, *bodies}):
        if is_node_file(path):
            content = _record(versions, path, records.get(path), read_node, node_text, notes)
        elif is_garment_file(path):
            content = _record(versions, path, garments.get(path), read_garment, garment_text, notes)
        elif is_body_file(path):
            content = _record(versions, path, bodies.get(path), read_body, body_text, notes)
        elif path == SETTINGS_FILE:
            content = _settings(versions, state)
        else:
            content = _other(versions, path)
        if content is not _AS_OURS:
            writes[path] = content
    return writes, tuple(notes)


_AS_OURS: Any = object()


def _record(
    versions: Versions, path: str, record: Any, read: Read, write: Write, notes: list[Note]
) -> Any:
    """Return the text of the file of a node, garment or body, None to take it out."""
    base, ours, theirs = versions.blobs(path)
    if record is None:
        return _AS_OURS if ours is None else None
    texts = versions.texts(path)
    if theirs in (ours, base) or texts[2] is None:
        lead = texts[1] or texts[2]
    elif ours in (base, None):
        lead = texts[2]
    else:
        lead = _joined_text(versions, path, texts, read) or texts[1]
    content = _holding(path, record, lead, read, write)
    _say_what_is_left_out(path, content, texts[2] if lead is not texts[2] else None, notes)
    return _AS_OURS if content == texts[1] else content


def _holding(path: str, record: Any, lead: bytes | None, read: Read, write: Write) -> bytes:
    if lead is not None and read(path, lead) == record:
        return lead
    return write(record, lead)


def _joined_text(
    versions: Versions, path: str, texts: tuple[bytes | None, ...], read: Read
) -> bytes | None:
    """Return both sides' lines in one text, where it can be read: comments of both are kept."""
    base, ours, theirs = (text or b"" for text in texts)
    joined = versions.store.merged_text(base, ours, theirs)
    if joined is not None:
        with suppress(Damaged):
            read(path, joined)
            return joined
    return None


def _say_what_is_left_out(
    path: str, content: bytes, theirs: bytes | None, notes: list[Note]
) -> None:
    comments = set(_comments(theirs or b"")) - set(_comments(content))
    if comments:
        says = f"comments of the other side in {path} are left out; they stay in its history"
        notes.append(Note("dropped", path, says))


def _comments(text: bytes) -> Iterator[bytes]:
    for line in text.splitlines():
        if line.lstrip().startswith(b"#"):
            yield line.strip()


def _settings(versions: Versions, state: State) -> Any:
    base, ours, theirs = versions.blobs(SETTINGS_FILE)
    if theirs in (ours, base):
        return _AS_OURS
    texts = versions.texts(SETTINGS_FILE)
    lead = texts[2] if ours == base else _joined_text(versions, SETTINGS_FILE, texts, read_settings)
    if lead is None or read_settings(SETTINGS_FILE, lead) != state.settings:
        raise _both_changed(SETTINGS_FILE)
    return lead


def _other(versions: Versions, path: str) -> Any:
    """Return a file that holds no changes: a photo, a drawing, what the maker keeps beside."""
    base, ours, theirs = versions.blobs(path)
    if theirs in (ours, base):
        return _AS_OURS
    texts = versions.texts(path)
    if ours == base:
        return texts[2]
    if texts[1] is not None and texts[2] is not None:
        joined = versions.store.merged_text(texts[0] or b"", texts[1], texts[2])
        if joined is not None:
            return joined
    if texts[1] is None or texts[2] is None:
        # Deleted on one side and changed on the other: kept, as a node would be.
        return texts[2] if texts[1] is None else _AS_OURS
    return _resolved_by_hand(versions, path, (texts[1], texts[2]))


def _resolved_by_hand(versions: Versions, path: str, sides: tuple[bytes, bytes]) -> bytes:
    """Return what the maker made of a file git could not join; raises CannotJoin."""
    if versions.store.half_merged() is not None:
        with suppress(NoSuchFile):
            found = versions.store.working_file(path)
            if found not in sides and b"<<<<<<<" not in found and b">>>>>>>" not in found:
                return found
    raise _both_changed(path)


def _both_changed(path: str) -> CannotJoin:
    return CannotJoin(
        path,
        "both sides changed the same part of it",
        "make it the same on one side (`git checkout VERSION -- FILE`), and join again",
    )
