"""The commits that can be read, and what they follow: the history as far as it is there."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import cached_property
from graphlib import TopologicalSorter

from trueup.lineage.errors import Damaged
from trueup.lineage.limits import LARGEST_FILE
from trueup.lineage.store.git.quiet_git import QuietGit


@dataclass(frozen=True)
class Made:
    """A commit: its list of files, what it follows, when it was made, and its first line."""

    id: str
    tree: str
    parents: tuple[str, ...]
    when: datetime
    subject: str
    maker: bytes


@dataclass(frozen=True)
class History:
    """Every commit that can be read, by id, and the ids of all else that is stored, by kind.

    `begins` are the commits whose parents do not count.
    """

    commits: Mapping[str, Made]
    trees: Collection[str] = ()
    blobs: Collection[str] = ()
    tags: Collection[str] = ()
    begins: Collection[str] = field(default=frozenset())

    def holds(self, object_id: str) -> bool:
        """Return whether a thing is stored."""
        kinds = (self.commits, self.trees, self.blobs, self.tags)
        return any(object_id in kind for kind in kinds)

    def parents(self, commit: str) -> tuple[str, ...]:
        """Return what a commit follows, whether that can be read or not."""
        if commit in self.begins or commit not in self.commits:
            return ()
        return self.commits[commit].parents

    def reached(self, starts: Iterable[str]) -> dict[str, None]:
        """Return the commits that are these or come before them, missing ones included."""
        found: dict[str, None] = {}
        waiting = list(starts)
        while waiting:
            commit = waiting.pop()
            if commit not in found:
                found[commit] = None
                waiting += self.parents(commit)
        return found

    @cached_property
    def in_order(self) -> tuple[str, ...]:
        """Return all commits that can be read, those before others first.

        Many may be made in one second, so what they follow counts before their dates.
        """
        dated = sorted(self.commits.values(), key=lambda made: (made.when, made.id))
        above = {made.id: [p for p in made.parents if p in self.commits] for made in dated}
        return tuple(TopologicalSorter(above).static_order())

    def tips(self) -> list[str]:
        """Return the commits that no other follows, the latest first; of one second, the last."""
        followed = {parent for made in self.commits.values() for parent in made.parents}
        ends = [each for each in reversed(self.in_order) if each not in followed]
        return sorted(ends, key=lambda each: self.commits[each].when, reverse=True)

    def followers(self) -> dict[str, str]:
        """Return of each commit the one that follows it first of all and is followed longest."""
        found: dict[str, str] = {}
        length: dict[str, int] = {}
        for commit in reversed(self.in_order):
            length[commit] = length[found[commit]] + 1 if commit in found else 0
            for parent in self.commits[commit].parents[:1]:
                if parent not in found or length[commit] > length[found[parent]]:
                    found[parent] = commit
        return found


def stored_ids(git: QuietGit) -> dict[str, list[str]]:
    """Return the ids of all that is stored, by kind."""
    found: dict[str, list[str]] = {"commit": [], "tree": [], "blob": [], "tag": []}
    form = "--batch-check=%(objecttype) %(objectname)"
    with git.reading("cat-file", form, "--batch-all-objects", "--unordered") as output:
        for line in output:
            kind, _, object_id = line.decode().strip().partition(" ")
            found.setdefault(kind, []).append(object_id)
    return found


def read_history(git: QuietGit, begins: Iterable[str] = ()) -> History:
    """Return the history as far as it can be read; raises `Damaged`."""
    stored = stored_ids(git)
    commits = {}
    for object_id, content in contents(git, stored["commit"]):
        made = _parsed(object_id, content)
        if made is not None:
            commits[object_id] = made
    trees, blobs, tags = (frozenset(stored[kind]) for kind in ("tree", "blob", "tag"))
    return History(commits, trees, blobs, tags, frozenset(begins))


def contents(git: QuietGit, wanted: Collection[str]) -> Iterator[tuple[str, bytes]]:
    """Yield the content of stored things one after the other; all must be there."""
    if not wanted:
        return
    asked = "".join(f"{each}\n" for each in wanted).encode()
    with git.reading("cat-file", "--batch", "--buffer", feed=asked) as output:
        for object_id in wanted:
            header = output.readline().split()
            if len(header) != 3 or int(header[2]) > LARGEST_FILE:
                raise Damaged(str(git.git_dir), f"{object_id} cannot be read")
            yield object_id, output.read(int(header[2]))
            output.read(1)


def _parsed(object_id: str, content: bytes) -> Made | None:
    head, _, message = content.partition(b"\n\n")
    tree, parents, maker = "", [], b""
    for line in head.split(b"\n"):
        word, _, rest = line.partition(b" ")
        if word == b"tree":
            tree = rest.decode(errors="replace")
        elif word == b"parent":
            parents.append(rest.decode(errors="replace"))
        elif word == b"committer":
            maker = rest
    subject = message.partition(b"\n")[0].decode(errors="replace")
    if not tree:
        return None
    return Made(object_id, tree, tuple(parents), _moment(maker), subject, maker)


def _moment(maker: bytes) -> datetime:
    try:
        return datetime.fromtimestamp(int(maker.split(b" ")[-2]), UTC)
    except (ValueError, IndexError, OverflowError, OSError):
        return datetime.fromtimestamp(0, UTC)
