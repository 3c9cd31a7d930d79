"""Find lost lists of files between the versions before and after those that need them."""

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from lineage.restoring.stored import loose
from lineage.restoring.stored.between import derived_list
from lineage.restoring.stored.commits import History, contents
from lineage.restoring.stored.missing import Entry, Need, broken_lists, entries, needs
from lineage.store.quiet_git import QuietGit

if TYPE_CHECKING:
    from lineage.restoring.stored.deriving import Known

MOST_LISTS = 200
"""Lost lists that are looked for; each is a search of its own."""

_FARTHEST = 20
_ENDS = 2  # the first and the last versions that need a list; those beside them are looked at
_MOST_UNNEEDED = 200


def lists_between(git: QuietGit, now: "Known") -> Iterator[tuple[str, bytes]]:
    """Yield the lists of files that can be derived from those of versions before and after."""
    broken = broken_lists(git, now.history, now.missing)
    lost = [n for n in needs(now.history, now.readable, now.missing, broken) if n.is_list]
    if not lost:
        return
    unneeded = _unneeded(git, now)
    after = _followers(now.history)
    for need in lost[:MOST_LISTS]:
        content = derived_list(need.id, list(_beside(git, now, need, after)), unneeded)
        if content is not None:
            yield need.id, loose.packed(b"tree", content)


def _beside(
    git: QuietGit, now: "Known", need: Need, after: dict[str, str]
) -> Iterator[list[Entry]]:
    """Yield the lists at the same path of the versions before and after, no two alike."""

    def before(commit: str) -> str | None:
        above = now.history.parents(commit)
        return above[0] if above else None

    seen: list[list[Entry]] = []
    for commit in (*need.commits[:_ENDS], *need.commits[-_ENDS:]):
        for way in (before, after.get):
            found = _nearest(git, now, need, way, commit)
            if found is not None and found not in seen:
                seen.append(found)
    yield from seen


def _nearest(
    git: QuietGit, now: "Known", need: Need, way: Callable[[str], str | None], start: str
) -> list[Entry] | None:
    """Return the list at a path in the nearest version in one direction that has one."""
    commit = way(start)
    for _ in range(_FARTHEST):
        if commit is None or commit not in now.history.commits:
            return None
        found = _list_at(git, now, commit, need.path)
        if found is not None:
            return found
        commit = way(commit)
    return None


def _list_at(git: QuietGit, now: "Known", commit: str, path: str) -> list[Entry] | None:
    tree = now.history.commits[commit].tree
    for name in path.split("/") if path else ():
        found = {each.name: each for each in _lines(git, now.history, tree)}
        entry = found.get(name.encode(errors="surrogateescape"))
        if entry is None or not entry.is_folder:
            return None
        tree = entry.id
    return _lines(git, now.history, tree) or None


def _lines(git: QuietGit, history: History, tree: str) -> list[Entry]:
    if tree not in history.trees:
        return []
    return [e for _, content in contents(git, [tree]) for e in entries(content, len(tree))]


def _followers(history: History) -> dict[str, str]:
    """Return of each commit the latest that follows it first of all."""
    ordered = sorted(history.commits.values(), key=lambda made: (made.when, made.id))
    return {made.parents[0]: made.id for made in ordered if made.parents}


def _unneeded(git: QuietGit, now: "Known") -> list[tuple[bool, str]]:
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
