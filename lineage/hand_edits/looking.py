"""Look at what a maker wrote into the files: as it is to be taken, or why it is not."""

from collections.abc import Collection, Iterable, Mapping

from msgspec import Struct, field
from msgspec.structs import replace

from trueup.lineage.errors import (
    BadRecord,
    Damaged,
    FileTooLarge,
    MayNotRead,
    NoSuchFile,
    UnsafePath,
    WardrobeError,
)
from trueup.lineage.hand_edits.named import Named
from trueup.lineage.hand_edits.paths import Edits
from trueup.lineage.store import Store


class HandEdits(Struct, frozen=True):
    """Edits by hand over a commit.

    `written` are the files as they lie on the disk (None: deleted), `contents` as they are to be
    taken: joined with what was recorded since they were opened, which `since` names; `refused` says
    why a file is in none of them, and stays as it was recorded; `unreadable` why nobody knows what
    a file is to hold.
    """

    head: str
    written: Edits
    contents: Edits
    since: Mapping[str, tuple[Named, ...]] = field(default_factory=dict)
    refused: Mapping[str, WardrobeError] = field(default_factory=dict)
    unreadable: Mapping[str, Damaged] = field(default_factory=dict)


def look(store: Store, head: str, paths: Iterable[str]) -> HandEdits:
    """Return edits by hand of some files over a commit, read now, as they are to be taken."""
    written: dict[str, bytes | None] = {}
    too_large: dict[str, WardrobeError] = {}
    unreadable: dict[str, Damaged] = {}
    for path in paths:
        try:
            written[path] = as_it_lies(store, path)
        except FileTooLarge as error:
            too_large[path] = error
        except Damaged as error:
            unreadable[path] = error
    edits = look_at(store, head, written)
    return replace(edits, refused={**edits.refused, **too_large}, unreadable=unreadable)


def as_it_lies(store: Store, path: str) -> bytes | None:
    """Return what a working file holds, None where there is none.

    Raises BadRecord for a link, a device and the like, MayNotRead, FileTooLarge.
    """
    try:
        return store.working_file(path)
    except NoSuchFile:
        return None
    except UnsafePath as error:
        raise BadRecord(path, error.reason) from None
    except PermissionError as error:
        raise MayNotRead(path, error.strerror or str(error)) from None
    except OSError as error:
        raise BadRecord(path, error.strerror or str(error)) from None


def look_at(store: Store, head: str, written: Edits, asked: Collection[str] = ()) -> HandEdits:
    """Return edits by hand over a commit as they are to be taken.

    Those `asked` for are taken as they are written.
    """
    if not written:
        return HandEdits(head, written, written)
    # Loaded where there is an edit: joining texts takes longer to load than to read a wardrobe.
    from trueup.lineage.hand_edits.reviewing import reviewed  # noqa: PLC0415

    contents, since, refused = reviewed(store, head, written, asked)
    return HandEdits(head, written, contents, since, refused)
