"""What the versions of a wardrobe need and is not there: which things, and who needs them."""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

from trueup.lineage.restoring.stored.commits import History, contents
from trueup.lineage.store.git.quiet_git import QuietGit


def is_complete(git: QuietGit, starts: Iterable[str]) -> bool:
    """Return whether all that these versions, and all before them, need is there."""
    asked = "".join(f"{each}\n" for each in starts).encode()
    if not asked:
        return True
    return git.ask("rev-list", "--objects", "--quiet", "--stdin", feed=asked).status == 0


def missing_things(git: QuietGit, commits: Collection[str]) -> frozenset[str]:
    """Return the lists of files and contents that these versions need and that are not there.

    Only of lists that are there it can be known what they hold. Raises `Damaged`.
    """
    if not commits:
        return frozenset()
    asked = "".join(f"{each}\n" for each in commits).encode()
    options = ("--objects", "--no-walk=unsorted", "--missing=print", "--stdin")
    found = set()
    with git.reading("rev-list", *options, feed=asked) as output:
        for line in output:
            if line.startswith(b"?"):
                found.add(line[1:].strip().decode())
    return frozenset(found)


@dataclass(frozen=True)
class ListEntry:
    """One line of a list of files: its mode, name and id."""

    mode: bytes
    name: bytes
    id: str

    @property
    def is_folder(self) -> bool:
        """Return whether it is a list of files itself."""
        return self.mode in (b"40000", b"040000")

    @property
    def order(self) -> bytes:
        """Return by what git orders the lines of a list."""
        return self.name + (b"/" if self.is_folder else b"")


def entries(content: bytes, letters: int) -> list[ListEntry]:
    """Return the lines of a list of files as git stores it, as far as they can be read."""
    found, at, width = [], 0, letters // 2
    while at < len(content):
        space, ends = content.find(b" ", at), content.find(b"\0", at)
        if not at < space < ends:
            break
        stop = ends + 1 + width
        name, object_id = content[space + 1 : ends], content[ends + 1 : stop].hex()
        found.append(ListEntry(content[at:space], name, object_id))
        at = stop
    return found


def tree_text(lines: Iterable[ListEntry]) -> bytes:
    """Return the content of a list of files, its lines in git's order."""
    return b"".join(map(line_text, sorted(lines, key=lambda entry: entry.order)))


def line_text(entry: ListEntry) -> bytes:
    """Return one line of a list of files as git stores it."""
    return entry.mode + b" " + entry.name + b"\0" + bytes.fromhex(entry.id)


_IDS = {
    letters: re.compile(rb"[0-7]+ [^\0]+\0(.{%d})" % (letters // 2), re.DOTALL)
    for letters in (40, 64)
}

Broken = Mapping[str, Mapping[str, ListEntry]]
"""Lists of files with something missing below them: of each, its folders and what it lacks."""


def broken_lists(git: QuietGit, history: History, missing: Collection[str]) -> Broken:
    """Return the lists of files that hold, somewhere below them, something that is missing."""
    broken: dict[str, dict[str, ListEntry]] = {}
    wanted = set(missing)
    while wanted:
        marks = frozenset(bytes.fromhex(each) for each in wanted)
        unseen = [tree for tree in history.trees if tree not in broken]
        wanted = set()
        for tree, content in contents(git, unseen):
            if not marks.isdisjoint(_IDS[len(tree)].findall(content)):
                wanted.add(tree)
                broken[tree] = {
                    entry.name.decode(errors="replace"): entry
                    for entry in entries(content, len(tree))
                    if entry.is_folder or entry.id in missing
                }
    return broken


@dataclass(frozen=True)
class Need:
    """Something that is missing: the path it had, and the versions that need it, oldest first.

    A list of files (`is_list`) has the path of its folder, empty for that of a whole version.
    """

    id: str
    path: str
    is_list: bool
    commits: tuple[str, ...]


def needs(
    history: History, commits: Iterable[str], missing: Collection[str], broken: Broken
) -> list[Need]:
    """Return of each missing thing where it stood in which of these versions."""
    found: dict[tuple[str, str, bool], list[str]] = {}
    asked = set(commits)
    for commit in (each for each in history.in_order if each in asked):
        tree = history.commits[commit].tree
        for path, each, is_list in _below(tree, missing, broken):
            found.setdefault((each, path, is_list), []).append(commit)
    return [Need(each, path, is_list, tuple(who)) for (each, path, is_list), who in found.items()]


def _below(tree: str, missing: Collection[str], broken: Broken) -> Iterator[tuple[str, str, bool]]:
    """Yield path and id of what is missing below a list of files, itself included."""
    if tree in missing:
        yield "", tree, True
    for name, entry in broken.get(tree, {}).items():
        if entry.is_folder:
            for path, found, is_list in _below(entry.id, missing, broken):
                yield f"{name}/{path}" if path else name, found, is_list
        elif entry.id in missing:
            yield name, entry.id, False
