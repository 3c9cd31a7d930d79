"""What git has stored: names looked up, trees listed, contents read."""

from collections.abc import Iterable, Iterator, Mapping
from typing import IO

from msgspec import Struct

from trueup.lineage.errors import BeyondLimits, Damaged, UnknownRevision, UnsafePath, printable
from trueup.lineage.limits import (
    LARGEST_FILE,
    LARGEST_LISTING,
    LARGEST_READING,
    LONGEST_PATH,
    MOST_FILES,
)
from trueup.lineage.store.files.paths import FOLDERS, SETTINGS, is_owned, require_contained
from trueup.lineage.store.files.working_files import FileChange
from trueup.lineage.store.git.git_failures import not_given
from trueup.lineage.store.git.quiet_git import QuietGit
from trueup.lineage.store.git.tree_ids import PLAIN, tree_id

_PLAIN_FILES = {PLAIN, "100755", "100664"}
_CHUNK = 2**20  # bytes


class StoredObject(Struct, frozen=True):
    """A stored object: its id and its kind ("commit", "tree", "blob", "tag")."""

    id: str
    kind: str


Special = dict[str, tuple[str, str]]
"""The mode and the id of what is recorded otherwise than as a plain file, by its path."""


class Listing(dict[str, str]):
    """Every file of a version with the id of its content.

    `links` are what is recorded as a link, or as a foreign repository, where one of the wardrobe's
    own files should be: it is no file, and never followed. `special` has the mode and the id of
    all that is recorded otherwise than as a plain file, as git writes them.
    """

    def __init__(self) -> None:
        super().__init__()
        self.links: dict[str, str] = {}
        self.special: Special = {}

    @classmethod
    def of(cls, files: Mapping[str, str], special: Special) -> "Listing":
        """Return a listing without links in the place of the wardrobe's own files."""
        found = cls()
        found.update(files)
        found.special.update(special)
        return found

    def after(self, contents: Mapping[str, str | None]) -> "Listing":
        """Return the files of the version that follows, given what is written and taken out."""
        files = Listing()
        there = {**self, **contents}
        files |= {path: blob for path in sorted(there) if (blob := there[path]) is not None}
        files.links = {path: blob for path, blob in self.links.items() if path not in contents}
        files.special = {p: found for p, found in self.special.items() if p not in contents}
        return files

    def tree(self, like: str) -> str:
        """Return git's id of all these files, in the kind of hash of `like`."""
        return tree_id(self, self.special, like)


def look_up(git: QuietGit, names: Iterable[str]) -> list[StoredObject | None]:
    """Return what each name stands for, in one call; None for a name that stands for nothing.

    Names go in on git's input, so none is ever taken for an option.
    """
    return [_found(line) for line in _look_up(git, names)]


def _look_up(git: QuietGit, names: Iterable[str]) -> list[bytes]:
    asked = "".join(f"{name}\n" for name in names).encode(errors="surrogateescape")
    if not asked:
        return []
    return git.run("cat-file", "--batch-check", feed=asked).split(b"\n")[:-1]


def _found(line: bytes) -> StoredObject | None:
    words = line.split(b" ")
    if len(words) != 3 or not words[2].isdigit():
        return None
    return StoredObject(words[0].decode(), words[1].decode())


def sizes(git: QuietGit, blob_ids: Iterable[str]) -> dict[str, int]:
    """Return how many bytes stored contents take, by their ids; those that are missing not."""
    lines = _look_up(git, blob_ids)
    return {found.id: int(line.split(b" ")[2]) for line in lines if (found := _found(line))}


def commit_id(git: QuietGit, revision: str) -> str:
    """Return the full id of the commit that `revision` names.

    Raises `UnknownRevision`.
    """
    if not revision.strip() or not revision.isprintable():
        raise UnknownRevision(revision, "that is not the name of a version")
    (line,) = _look_up(git, [f"{revision}^{{commit}}"])
    found = _found(line)
    if line.endswith(b" ambiguous"):
        raise UnknownRevision(revision, "it is short enough to stand for several")
    if found is None:
        raise UnknownRevision(revision)
    return found.id


def list_tree(git: QuietGit, commit: str) -> Listing:
    """Return every file of a commit with the id of its content.

    Raises `UnsafePath` for a name that leads out of the folder and for a link where the settings or
    one of the wardrobe's own folders should be. Links and foreign repositories elsewhere are left
    out: the wardrobe never reads them. Raises `BeyondLimits` for more than any wardrobe holds.
    """
    files = Listing()
    for entry in _parts(git, commit, MOST_FILES, "ls-tree", "-r", "-z", commit):
        facts, _, name = entry.partition(b"\t")
        mode, _, content = facts.decode().split(" ")
        path = _decoded(git, name)
        if mode != PLAIN:
            files.special[path] = (mode, content)
        if mode in _PLAIN_FILES:
            files[path] = content
        elif path == SETTINGS or path in FOLDERS:
            raise UnsafePath(path, "it is recorded as a link and not as a file")
        elif is_owned(path):
            files.links[path] = content
    return files


def read_blobs(
    git: QuietGit, blob_ids: Iterable[str], at_most: int = LARGEST_FILE
) -> dict[str, bytes]:
    """Return the content behind each id, all in one call.

    Of a content longer than `at_most` bytes no more than one byte beyond them is returned: enough
    to see, and to say of its own file, that it is too long.

    Raises `Damaged` where one is missing or broken, `BeyondLimits` where it is too large.
    """
    wanted = dict.fromkeys(blob_ids)
    contents: dict[str, bytes] = {}
    total = 0
    asked = "".join(f"{blob}\n" for blob in wanted).encode()
    if not asked:
        return contents
    with git.reading("cat-file", "--batch", "--buffer", feed=asked) as output:
        for blob in wanted:
            header = output.readline()
            if not header.endswith(b"\n"):
                break
            found = _found(header[:-1])
            if found is None or found.kind != "blob":
                raise not_given(git.git_dir, blob, f"the content {blob} is missing")
            size = int(header.split(b" ")[2])
            total += size
            if size > LARGEST_FILE or total > LARGEST_READING:
                reason = f"a file is larger than {LARGEST_FILE // 1_000_000} MB"
                if size <= LARGEST_FILE:
                    reason = f"its files are larger than {LARGEST_READING // 1_000_000} MB together"
                raise BeyondLimits(blob, reason)
            contents[blob] = output.read(min(size, at_most + 1))
            _pass_over(output, size + 1 - len(contents[blob]))
    if len(contents) != len(wanted):
        raise Damaged(str(git.git_dir), "git ended before everything was read")
    return contents


def _pass_over(output: IO[bytes], size: int) -> None:
    while size and (passed := output.read(min(size, _CHUNK))):
        size -= len(passed)


def merge_bases(git: QuietGit, one: str, other: str) -> tuple[str, ...]:
    """Return the latest commits that two commits both come from; none for unrelated histories."""
    answer = git.ask("merge-base", "--all", one, other)
    if answer.status not in (0, 1):
        raise git.failure("merge-base", answer)
    return tuple(sorted(answer.output.decode().split()))


def special_files(git: QuietGit, before: str, after: str) -> tuple[str, ...]:
    """Return the links and foreign repositories that were put in or changed between two commits."""
    special = [
        _decoded(git, name)
        for facts, name in _compared(git, before, after)
        if facts.split(b" ")[1].decode() not in {*_PLAIN_FILES, "000000"}
    ]
    return tuple(special)


def differences(git: QuietGit, before: str | None, after: str) -> dict[str, FileChange]:
    """Return the files that differ between two commits; `before` None is the empty wardrobe."""
    start = before or git.run("hash-object", "-t", "tree", "--stdin").decode().strip()
    changes = {}
    for facts, name in _compared(git, start, after):
        old_mode, new_mode, old, new, _ = facts.decode().removeprefix(":").split(" ")
        if (old_mode in _PLAIN_FILES or not int(old_mode)) and (
            new_mode in _PLAIN_FILES or not int(new_mode)
        ):
            changes[_decoded(git, name)] = FileChange(
                old if int(old_mode) else None, new if int(new_mode) else None
            )
    return changes


def _compared(git: QuietGit, before: str, after: str) -> Iterator[tuple[bytes, bytes]]:
    """Yield the facts and the name of every entry that differs between two commits."""
    asked = ("diff-tree", "-r", "-z", "--raw", "--no-renames", before, after)
    words = _parts(git, after, 2 * MOST_FILES, *asked)
    return zip(words[::2], words[1::2], strict=True)


def _parts(git: QuietGit, commit: str, most: int, *arguments: str) -> list[bytes]:
    """Return the parts of an answer of git, each ended by a zero byte; raises `BeyondLimits`.

    Trees may stand in one another again and again: what is stored in a few kilobytes can list more
    files than there is memory for. So git is stopped as soon as it lists more than any wardrobe's.
    """
    chunks: list[bytes] = []
    size = count = 0
    with git.reading(*arguments) as output:
        while chunk := output.read(_CHUNK):
            chunks.append(chunk)
            size, count = size + len(chunk), count + chunk.count(b"\0")
            if size > LARGEST_LISTING or count > most:
                raise BeyondLimits(
                    f"version {commit[:10]}",
                    f"it holds more than {MOST_FILES:,} files, or longer names than any",
                )
    return b"".join(chunks).split(b"\0")[:-1]


def _decoded(git: QuietGit, name: bytes) -> str:
    try:
        path = name.decode()
    except UnicodeDecodeError:
        raise Damaged(
            str(git.work_tree), f"the file name {printable(name)} is not readable text"
        ) from None
    require_contained(path)
    if len(name) > LONGEST_PATH:
        raise UnsafePath(path, f"it is longer than {LONGEST_PATH:,} bytes")
    return path
