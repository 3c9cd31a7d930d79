"""A merge that git began and could not finish: which files it left, and which are the maker's.

Git leaves `MERGE_HEAD`, conflict markers in the files, and three versions of each in its index. A
file that is as git left it may be replaced; one the maker has edited since is never touched.
"""

import re
from collections.abc import Mapping
from contextlib import suppress

from msgspec import Struct

from trueup.lineage.errors import CannotWrite, Damaged, UnknownRevision
from trueup.lineage.limits import LARGEST_RECORD
from trueup.lineage.store.files.plain_file import NotPlain, read_plain
from trueup.lineage.store.files.working_files import FileChange, WorkingFiles, blob_id
from trueup.lineage.store.git import objects
from trueup.lineage.store.git.git_failures import not_given
from trueup.lineage.store.git.quiet_git import QuietGit
from trueup.lineage.store.joins import text_merge
from trueup.lineage.store.joins.merge_errors import CannotJoin

_ID = re.compile(r"[0-9a-f]{40}(?:[0-9a-f]{24})?")
_LEFT_BEHIND = ("MERGE_HEAD", "MERGE_MSG", "MERGE_MODE", "MERGE_RR", "AUTO_MERGE")


class HalfMerge(Struct, frozen=True):
    """A merge git stopped in: the commit that was to be joined, and the files it touched.

    `left` gives for each path the contents (by id) it may have without the maker having edited it.
    """

    other: str
    left: Mapping[str, frozenset[str | None]]

    def changes(
        self, files: WorkingFiles, before: Mapping[str, str], after: Mapping[str, str], like: str
    ) -> dict[str, FileChange]:
        """Return what every file git touched becomes; one the maker edited is left as it is."""
        found = {}
        for path, allowed in self.left.items():
            present = files.content_id_if_plain(path, like)
            old = present if present in allowed else before.get(path)
            found[path] = FileChange(old, after.get(path))
        return found


def other_side(git: QuietGit) -> str | None:
    """Return the commit git was joining when it stopped; None where it did not.

    Raises CannotJoin for a merge of more than two histories, Damaged.
    """
    try:
        content = read_plain(git.git_dir / "MERGE_HEAD", LARGEST_RECORD, follow=False)
    except NotPlain as reason:
        if reason.is_missing:
            return None
        raise Damaged(str(git.git_dir / "MERGE_HEAD"), str(reason)) from None
    lines = content.decode("ascii", "replace").split()
    if len(lines) > 1 and all(map(_ID.fullmatch, lines)):
        raise CannotJoin(
            "What git began to join",
            "it is more than one other version at a time",
            "give it up with `git merge --abort`, and join one after the other",
        )
    if len(lines) != 1 or not _ID.fullmatch(lines[0]):
        raise Damaged(str(git.git_dir / "MERGE_HEAD"), "it names no version")
    try:
        return objects.commit_id(git, lines[0])
    except UnknownRevision:
        missing = f"its MERGE_HEAD names the version {lines[0]}, and git holds no such version"
        raise not_given(git.git_dir, lines[0], missing) from None


def half_merge(git: QuietGit, head: str) -> HalfMerge | None:
    """Return the merge git stopped in, None where it did not."""
    other = other_side(git)
    if other is None:
        return None
    ours, theirs = objects.list_tree(git, head), objects.list_tree(git, other)
    by_git = _as_git_left(git)
    paths = {p for p in {*ours, *theirs} if ours.get(p) != theirs.get(p)}
    paths |= {p for p, blob in (by_git or {}).items() if ours.get(p) != blob}
    left: dict[str, frozenset[str | None]] = {}
    for path in sorted(paths):
        allowed = {ours.get(path)}
        if by_git is not None:
            allowed.add(by_git.get(path))
        else:
            allowed |= {theirs.get(path), _joined(git, path, head, ours, theirs, other)}
        left[path] = frozenset(allowed)
    return HalfMerge(other, left)


def _as_git_left(git: QuietGit) -> dict[str, str] | None:
    """Return the files as git wrote them, conflict markers and all; None where it does not say."""
    (found,) = objects.look_up(git, ["AUTO_MERGE^{tree}"])
    return None if found is None else objects.list_tree(git, found.id)


def _joined(
    git: QuietGit,
    path: str,
    head: str,
    ours: Mapping[str, str],
    theirs: Mapping[str, str],
    other: str,
) -> str | None:
    """Return what a file becomes where its lines can be joined, as git would."""
    bases = objects.merge_bases(git, head, other)
    base = objects.list_tree(git, bases[0]).get(path) if bases else None
    wanted = [blob for blob in (base, ours.get(path), theirs.get(path)) if blob]
    if path not in ours or path not in theirs:
        return None
    texts = objects.read_blobs(git, wanted)
    merged = text_merge.merged_text(
        git, texts[base] if base else b"", texts[ours[path]], texts[theirs[path]]
    )
    return None if merged is None else blob_id(merged, head)


def finish(git: QuietGit, other: str) -> None:
    """Take away what git left of its merge, once that has become a commit.

    Raises `CannotWrite`.
    """
    with suppress(CannotJoin):
        if other_side(git) != other:
            return
    for name in reversed(_LEFT_BEHIND):
        try:
            (git.git_dir / name).unlink(missing_ok=True)
        except OSError as error:
            raise CannotWrite(str(git.git_dir / name), error.strerror or str(error)) from error


def edited_since(
    half: HalfMerge, changes: Mapping[str, FileChange], files: WorkingFiles, like: str
) -> tuple[str, ...]:
    """Return the files that the maker edited since git left them, and that are to be replaced."""
    return tuple(
        path
        for path, change in changes.items()
        if files.content_id(path, like) not in (*half.left[path], change.after)
    )
