"""What git need not be asked for again: versions listed last, and contents that were just written.

A commit names its files and an id its content for good, so nothing kept here is ever out of date.
"""

from collections.abc import Iterable, Mapping

from msgspec import Struct

from trueup.lineage.store.files.working_files import blob_id
from trueup.lineage.store.git import objects
from trueup.lineage.store.git.quiet_git import QuietGit

_LISTINGS = 4
"""Of so many versions the files are kept: an undo asks for those of two by turns."""


class Latest(Struct, frozen=True):
    """The latest version when a repository was opened, and git's id of all its files."""

    head: str
    tree: str


class AtHand:
    """The files of versions, and contents by their ids: from git, or as they were kept.

    `latest` is the latest version as it was when the wardrobe was opened, where it was one then.
    """

    def __init__(self, git: QuietGit) -> None:
        self._git = git
        self._listed: dict[str, objects.Listing] = {}
        self._written: dict[str, bytes] = {}
        self.latest: Latest | None = None
        self._is_fresh = True

    def listing(self, commit: str) -> objects.Listing:
        """Return every file of a commit; raises as `objects.list_tree` does."""
        if commit not in self._listed:
            self._keep(commit, objects.list_tree(self._git, commit))
        return self._listed[commit]

    def just_opened(self) -> str | None:
        """Return the latest commit as it was when the wardrobe was opened; None from then on."""
        seen, self._is_fresh = self._is_fresh, False
        return self.latest.head if self.latest and seen else None

    def know(self, tree: str, files: Mapping[str, str], special: objects.Special) -> None:
        """Take what a tree of an id holds, so that git need not list it for the latest version.

        `files` and `special` are as of a `Listing`; an id says its content for good.
        """
        if self.latest is not None and self.latest.tree == tree:
            self._keep(self.latest.head, objects.Listing.of(files, special))

    def contents(self, blob_ids: Iterable[str], at_most: int) -> dict[str, bytes]:
        """Return the content behind each id; as `objects.read_blobs`, and raises what it does."""
        wanted = dict.fromkeys(blob_ids)
        unknown = (blob for blob in wanted if blob not in self._written)
        found = objects.read_blobs(self._git, unknown, at_most)
        return {b: found[b] if b in found else self._written[b][: at_most + 1] for b in wanted}

    def keep_step(self, before: str, commit: str, writes: Mapping[str, bytes | None]) -> None:
        """Keep what a step, recorded as a commit on the one before, wrote and took out."""
        blobs = {p: None if c is None else blob_id(c, commit) for p, c in writes.items()}
        self._written = {blob: writes[p] or b"" for p, blob in blobs.items() if blob is not None}
        self._keep(commit, self.listing(before).after(blobs))

    def _keep(self, commit: str, listing: objects.Listing) -> None:
        self._listed[commit] = listing
        if len(self._listed) > _LISTINGS:
            del self._listed[next(iter(self._listed))]
