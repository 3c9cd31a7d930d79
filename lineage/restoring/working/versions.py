"""The versions of one file: the latest that can be read, and where it comes from."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from trueup.lineage.errors import Damaged
from trueup.lineage.restoring.findings import KnownVersion
from trueup.lineage.store.git import history
from trueup.lineage.store.git.objects import look_up, read_blobs
from trueup.lineage.store.git.quiet_git import QuietGit


@dataclass(frozen=True)
class Source:
    """A version of a file: its path, its content by id, and the step it is of."""

    path: str
    blob: str
    version: KnownVersion | None


def latest_readable(
    git: QuietGit, tip: str, paths: Iterable[str], is_readable: Callable[[str, bytes], bool]
) -> Source | None:
    """Return the latest version in the history of one of some files that can be read."""
    asked = list(paths)
    try:
        for commit in history.walk(git, tip, asked):
            names = [f"{commit.id}:{path}" for path in asked]
            for path, found in zip(asked, look_up(git, names), strict=True):
                if found is None or found.kind != "blob":
                    continue
                content = content_of(git, found.id)
                if content is not None and is_readable(path, content):
                    version = KnownVersion(commit.id, commit.when, commit.subject)
                    return Source(path, found.id, version)
    except Damaged:
        return None  # the history before this cannot be read
    return None


def content_of(git: QuietGit, blob: str) -> bytes | None:
    """Return a stored content; None where it is missing or too large."""
    try:
        return read_blobs(git, [blob])[blob]
    except Damaged:
        return None
