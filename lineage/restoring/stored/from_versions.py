"""Find lost lists of files between the versions before and after those that need them."""

from collections.abc import Callable, Iterator

from trueup.lineage.restoring.stored import loose
from trueup.lineage.restoring.stored.between import Patience, derived_list
from trueup.lineage.restoring.stored.commits import History, contents
from trueup.lineage.restoring.stored.known import Known
from trueup.lineage.restoring.stored.missing import ListEntry, Need, entries, needs
from trueup.lineage.store.git.quiet_git import QuietGit

MOST_LISTS = 50
"""Lost lists that are looked for at once; each is a search of its own."""

MOST_TRIES = 50_000
"""Lists tried for all of them; for one that is lost alone a handful is enough."""

_FARTHEST = 5
_ENDS = 2  # the first and the last versions that need a list; those beside them are looked at
_MOST_UNNEEDED = 200


def lists_between(now: Known) -> Iterator[tuple[str, bytes]]:
    """Yield the lists of files that can be derived from those of versions before and after."""
    every = needs(now.history, now.readable, now.missing, now.broken)
    lost = [need for need in every if need.is_list]
    if not lost:
        return
    unneeded = _unneeded(now.git, now)
    neighbours = _Neighbours(now.git, now.history)
    patience = Patience(MOST_TRIES)
    for need in lost[:MOST_LISTS]:
        content = derived_list(need.id, neighbours.beside(need), unneeded, patience)
        if content is not None:
            yield need.id, loose.packed(b"tree", content)


class _Neighbours:
    """Finds lists of files at a path in the versions beside others; each is read once."""

    def __init__(self, git: QuietGit, history: History) -> None:
        self._git = git
        self._history = history
        self._after = history.followers()
        self._read: dict[str, list[ListEntry]] = {}

    def beside(self, need: Need) -> list[list[ListEntry]]:
        """Return the lists of the versions before and after those that need one, no two alike."""
        found: list[list[ListEntry]] = []
        for commit in (*need.commits[:_ENDS], *need.commits[-_ENDS:]):
            for way in (self._before, self._after.get):
                lines = self._nearest(need, way, commit)
                if lines is not None and lines not in found:
                    found.append(lines)
        return found

    def _before(self, commit: str) -> str | None:
        above = self._history.parents(commit)
        return above[0] if above else None

    def _nearest(
        self, need: Need, way: Callable[[str], str | None], start: str
    ) -> list[ListEntry] | None:
        """Return the list at a path in the nearest version in one direction that has one."""
        commit = way(start)
        for _ in range(_FARTHEST):
            if commit is None or commit not in self._history.commits:
                return None
            found = self._list_at(commit, need.path)
            if found is not None:
                return found
            commit = way(commit)
        return None

    def _list_at(self, commit: str, path: str) -> list[ListEntry] | None:
        tree = self._history.commits[commit].tree
        for name in path.split("/") if path else ():
            found = {each.name: each for each in self._lines(tree)}
            entry = found.get(name.encode(errors="surrogateescape"))
            if entry is None or not entry.is_folder:
                return None
            tree = entry.id
        return self._lines(tree) or None

    def _lines(self, tree: str) -> list[ListEntry]:
        if tree not in self._history.trees:
            return []
        if tree not in self._read:
            ((_, content),) = contents(self._git, [tree])
            self._read[tree] = entries(content, len(tree))
        return self._read[tree]


def _unneeded(git: QuietGit, now: Known) -> list[tuple[bool, str]]:
    """Return the lists of files and contents that no commit needs, as far as can be seen."""
    asked = "".join(f"{each}\n" for each in now.history.commits).encode()
    options = ("--objects", "--no-walk=unsorted", "--missing=print", "--stdin")
    needed = set()
    with git.reading("rev-list", *options, feed=asked) as output:
        for line in output:
            needed.add(line.split(None, 1)[0].decode())
    lists = sorted(set(now.history.trees) - needed)[:_MOST_UNNEEDED]
    contents_left = sorted(set(now.history.blobs) - needed)[:_MOST_UNNEEDED]
    return [*((True, each) for each in lists), *((False, each) for each in contents_left)]
