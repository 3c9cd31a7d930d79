"""Commits as the maker reads them: who, when, what, and the facts written below the message."""

import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta, timezone
from typing import IO

from msgspec import Struct
from msgspec.structs import replace

from trueup.lineage.errors import BeyondLimits, Damaged, UnknownRevision
from trueup.lineage.limits import LARGEST_HISTORY, LARGEST_RECORD, LONGEST_MESSAGE
from trueup.lineage.store.files.plain_file import NotPlain, read_plain
from trueup.lineage.store.git import objects
from trueup.lineage.store.git.git_failures import closed_object
from trueup.lineage.store.git.quiet_git import QuietGit

_TRAILER = re.compile(r"([A-Za-z0-9][A-Za-z0-9-]*):[ \t]+(.*)")
_MOMENT = re.compile(
    rb"(?P<seconds>-?[0-9]{1,12}) (?P<sign>[+-])(?P<hours>[0-9]{2})(?P<minutes>[0-9]{2})"
)
_USUAL_ENCODING = re.compile(r"iso-8859-([1-9]|1[0134-6])|windows-125[0-8]|koi8-[ru]")
_FULL_ID = re.compile(r"[0-9a-f]{40}(?:[0-9a-f]{24})?")
_CHUNK = 65536  # bytes
_CUT_SHORT = b"\n\n..."
_LONGEST_LINE = 1_000  # characters of a name or of the first line of a message


class Commit(Struct, frozen=True):
    """One step of the history.

    `when` knows its time zone. `subject` is the first line of the message, `body` the rest
    without the trailers, `trailers` the facts of the last paragraph ("Key: value").
    """

    id: str
    parents: tuple[str, ...]
    author: str
    when: datetime
    subject: str
    body: str
    trailers: Mapping[str, str]


def compose_message(message: str, trailers: Mapping[str, str]) -> str:
    """Return the text a commit carries: the message, then each trailer on a line of its own.

    A trailer's value is one line: runs of white space in it become one space. Raises
    `ValueError` for an empty message or a trailer key that is not one word.
    """
    text = message.replace("\0", "").strip()
    if not text:
        raise ValueError("a step needs a message")
    lines = []
    for key, value in trailers.items():
        if not re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9-]*", key):
            raise ValueError(f"{key!r} cannot name a trailer")
        lines.append(f"{key}: {' '.join(value.replace(chr(0), '').split())}")
    whole = "\n\n".join([text, "\n".join(lines)] if lines else [text])
    return whole.encode(errors="backslashreplace").decode() + "\n"


def parse_message(message: str) -> tuple[str, str, dict[str, str]]:
    """Split a commit's message into subject, body and trailers."""
    paragraphs = re.split(r"\n[ \t]*\n", message.strip())
    subject = " ".join(paragraphs[0].split("\n"))
    trailers: dict[str, str] = {}
    if len(paragraphs) > 1:
        matches = [_TRAILER.fullmatch(line) for line in paragraphs[-1].split("\n")]
        if all(matches):
            trailers = {match[1]: match[2] for match in matches if match}
            paragraphs.pop()
    return subject, "\n\n".join(paragraphs[1:]).strip(), trailers


def walk(
    git: QuietGit,
    commit: str,
    paths: Sequence[str] = (),
    beyond: Sequence[str] = (),
    trailer: str = "",
) -> Iterator[Commit]:
    """Yield `commit` and what came before it, newest first, read as far as it is asked for.

    Where histories were joined, all of them are walked, by date, and no version comes before one
    that follows it. With `paths`, only the steps that changed one of these files or folders;
    the commits `beyond`, and all before them, are left out; with `trailer`, those that have no line
    beginning with that key. Raises `Damaged`, `BeyondLimits`.
    """
    order = ("--date-order", "--full-history", *([f"--grep=^{trailer}: "] if trailer else ()))
    left_out = [f"^{each}" for each in beyond]
    total = 0
    oldest = _cut_off_at(git)
    # Two gits in a row, and not one that prints messages: that would hold all of them in memory.
    with (
        git.reading("rev-list", *order, commit, *left_out, "--", *paths) as ids,
        git.reading("cat-file", "--batch", "--buffer", feed=ids) as output,
    ):
        for found, content in _contents(git, output):
            total += len(content)
            if total > LARGEST_HISTORY:
                reason = f"its messages are more than {LARGEST_HISTORY // 1_000_000} MB long"
                raise BeyondLimits(str(git.git_dir), reason)
            told = _commit(git, found, content)
            yield replace(told, parents=()) if found in oldest else told


def version_id(git: QuietGit, revision: str) -> str:
    """Return the full id of the version that `revision` names.

    Raises `UnknownRevision`, and `Damaged` where it may not be found because the history has a gap;
    what a shallow copy leaves out is none.
    """
    try:
        return objects.commit_id(git, revision)
    except UnknownRevision:
        _require_no_gap(git, revision)
        raise


def _require_no_gap(git: QuietGit, sought: str) -> None:
    if _FULL_ID.fullmatch(sought) and (not_allowed := closed_object(git.git_dir, sought)):
        raise not_allowed
    answer = git.ask("rev-list", "--quiet", "--all", "HEAD")
    if answer.status == 0:
        if _cut_off_at(git):
            reason = "it may lie before what this shallow copy holds; fetch the whole history"
            raise UnknownRevision(sought, reason)
        return
    failure = git.failure("rev-list", answer)
    if type(failure) is not Damaged:
        raise failure
    reason = f"the version {sought} is not to be found, for its history has a gap"
    raise Damaged(str(git.git_dir), reason)


def _cut_off_at(git: QuietGit) -> frozenset[str]:
    """Return the commits whose parents were left out of this copy, as a shallow clone says."""
    try:
        text = read_plain(git.git_dir / "shallow", LARGEST_RECORD, follow=False)
    except NotPlain:
        return frozenset()
    return frozenset(text.decode("ascii", "replace").split())


def _contents(git: QuietGit, output: IO[bytes]) -> Iterator[tuple[str, bytes]]:
    """Yield the id of each commit with what is stored of it, as far as that is read."""
    while header := output.readline(_CHUNK):
        words = header.split()
        if len(words) != 3 or words[1] != b"commit":
            raise Damaged(str(git.git_dir), "a version of its history is missing")
        size = int(words[2])
        content = output.read(min(size, LONGEST_MESSAGE))
        left = size - len(content) + 1
        while left and (passed_over := output.read(min(left, _CHUNK))):
            left -= len(passed_over)
        if left:
            raise Damaged(str(git.git_dir), "git ended before everything was read")
        # Facts at the end of a message that is cut short are none of its last paragraph.
        yield words[0].decode(), content if size == len(content) else content + _CUT_SHORT


def _commit(git: QuietGit, commit: str, content: bytes) -> Commit:
    """Read a commit as git stores it: lines of facts, an empty line, the message."""
    header, _, message = content.partition(b"\n\n")
    facts = [line.partition(b" ") for line in header.split(b"\n")]
    parents = tuple(value.decode("ascii", "replace") for key, _, value in facts if key == b"parent")
    author = next((value for key, _, value in facts if key == b"author"), b"")
    encoding = _encoding(next((value for key, _, value in facts if key == b"encoding"), b""))
    person, _, moment = author.rpartition(b"> ")
    name, _, address = person.decode(encoding, "replace").partition("<")
    when = _moment(moment)
    if when is None:
        raise Damaged(str(git.git_dir), f"the version {commit} has no readable date")
    subject, body, trailers = parse_message(message.decode(encoding, "replace"))
    maker = f"{name.strip()} <{address}>"[:_LONGEST_LINE]
    return Commit(commit, parents, maker, when, subject[:_LONGEST_LINE], body, trailers)


def _moment(text: bytes) -> datetime | None:
    """Return the moment git writes as seconds since 1970 and a zone such as +0130."""
    found = _MOMENT.fullmatch(text)
    if not found:
        return None
    sign, hours, minutes = found["sign"], int(found["hours"]), int(found["minutes"])
    ahead = timedelta(hours=hours, minutes=minutes)
    try:
        zone = timezone(-ahead if sign == b"-" else ahead)
        return datetime.fromtimestamp(int(found["seconds"]), zone)
    except (ValueError, OverflowError, OSError):
        return None


def _encoding(named: bytes) -> str:
    """Return the encoding a commit names for its texts; UTF-8 where it names none of the usual."""
    name = named.decode("ascii", "replace").lower()
    return name if _USUAL_ENCODING.fullmatch(name) else "utf-8"
