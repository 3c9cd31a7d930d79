"""What lies on the disk beside the latest version: the maker's own edits, and nothing else.

Readers take no lock. While a step is on its way, or one was interrupted, its files may be as before
it or as after it, and neither is the maker's doing; and a look during which the wardrobe moved on
is taken again.
"""

from collections.abc import Mapping
from typing import Literal

from msgspec import Struct

from trueup.lineage.errors import FileTooLarge, UnsafePath, WardrobeError
from trueup.lineage.limits import LARGEST_FILE
from trueup.lineage.store.files.paths import is_owned
from trueup.lineage.store.files.working_files import FileChange, WorkingFiles
from trueup.lineage.store.git import objects
from trueup.lineage.store.git.at_hand import AtHand
from trueup.lineage.store.git.quiet_git import QuietGit
from trueup.lineage.store.writing import unfinished

_LOOKS = 50
"""So often a reader looks again while others write; each time, somebody recorded a step."""


_UNREADABLE = "unreadable"  # stands for the id of content that nobody can read


class HandEdit(Struct, frozen=True):
    """A working file that is not as the last step left it."""

    path: str
    kind: Literal["changed", "added", "deleted"]


class DiskLook(Struct, frozen=True):
    """The latest commit, the files edited by hand since, and whether files are still to follow."""

    head: str
    edits: tuple[HandEdit, ...]
    is_unfinished: bool


def look(git: QuietGit, files: WorkingFiles, at_hand: AtHand) -> DiskLook:
    """Return what lies on the disk, all seen at one version; raises `Damaged`.

    The first time, the latest commit is the one as of which the wardrobe was opened: where files
    are as it left them, git is not asked again.
    """
    latest = at_hand.just_opened()
    for left in reversed(range(_LOOKS)):
        head, on_its_way = _standing(git, latest)
        latest = None
        try:
            edits = _edits(git, files, at_hand.listing(head), head, on_its_way)
        except WardrobeError:
            # A file that was replaced while it was looked at; what stays is found again.
            if left and _standing(git) != (head, on_its_way):
                continue
            raise
        if not edits or not left or _standing(git) == (head, on_its_way):
            break
    return DiskLook(head, edits, on_its_way == head)


def _standing(git: QuietGit, latest: str | None = None) -> tuple[str, str | None]:
    found = unfinished.read(git.git_dir)
    head = latest or objects.commit_id(git, "HEAD")
    return head, found.commit if found else None


def _edits(
    git: QuietGit,
    files: WorkingFiles,
    listed: objects.Listing,
    head: str,
    on_its_way: str | None,
) -> tuple[HandEdit, ...]:
    recorded = {**listed, **listed.links}
    moving = _moving(git, head) if on_its_way == head else {}
    edits = []
    standing = files.owned(head)
    for path in files.looks.keys() - standing.keys():  # there no more
        del files.looks[path]
    differing = {path for path, _ in recorded.items() ^ standing.items()}
    for path in sorted(path for path in differing if path in standing or is_owned(path)):
        before = recorded.get(path)
        now = standing.get(path) or _content_id(git, files, path, recorded, head)
        if before == now or (path in moving and moving[path].before == now):
            continue
        if path in listed.links and now == _UNREADABLE:
            continue
        kind: Literal["changed", "added", "deleted"] = "changed"
        if before is None:
            kind = "added"
        elif now is None:
            kind = "deleted"
        edits.append(HandEdit(path, kind))
    return tuple(edits)


def _content_id(
    git: QuietGit, files: WorkingFiles, path: str, recorded: Mapping[str, str], like: str
) -> str | None:
    """Return the id of a working file's content; "" for a large one that is another by its size."""
    try:
        return files.content_id(path, like, LARGEST_FILE)
    except FileTooLarge:
        blob = recorded.get(path, "")
        is_other = not blob or objects.sizes(git, [blob]).get(blob) != files.size(path)
        return "" if is_other else files.content_id(path, like)
    except (UnsafePath, OSError):
        return _UNREADABLE


def _moving(git: QuietGit, head: str) -> Mapping[str, FileChange]:
    """Return the files that are still to follow the latest step."""
    (parent,) = objects.look_up(git, [f"{head}~1^{{commit}}"])
    return objects.differences(git, parent.id if parent else None, head)
