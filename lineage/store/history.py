"""Commits as the maker reads them: who, when, what, and the facts written below the message."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import IO

from lineage.errors import Damaged
from lineage.store.quiet_git import QuietGit

_TRAILER = re.compile(r"([A-Za-z0-9][A-Za-z0-9-]*):[ \t]+(.*)")
_FORMAT = "--format=tformat:%P%x00%an <%ae>%x00%aI%x00%B%x00"
_CHUNK = 65536  # bytes


@dataclass(frozen=True)
class Commit:
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
    git: QuietGit, commit: str, paths: Sequence[str] = (), beyond: Sequence[str] = ()
) -> Iterator[Commit]:
    """Yield `commit` and what came before it, newest first, read as far as it is asked for.

    Where histories were joined, all of them are walked, by date, and no version comes before one
    that follows it. With `paths`, only the steps that changed one of these files or folders;
    the commits `beyond`, and all before them, are left out.
    """
    order = ("--date-order", "--full-history")
    left_out = [f"^{each}" for each in beyond]
    with git.reading("rev-list", *order, _FORMAT, commit, *left_out, "--", *paths) as output:
        for record in _records(output):
            yield _commit(git, record)


def _records(output: IO[bytes]) -> Iterator[list[str]]:
    """Cut git's answer into the four fields of each commit, the first with git's own header."""
    fields: list[bytes] = []
    rest = b""
    while chunk := output.read1(_CHUNK):  # type: ignore[attr-defined]
        *whole, rest = (rest + chunk).split(b"\0")
        for found in whole:
            fields.append(found)
            if len(fields) == 4:
                yield [text.decode(errors="replace") for text in fields]
                fields = []


def _commit(git: QuietGit, record: list[str]) -> Commit:
    heading, author, when, message = record
    first, _, parents = heading.strip("\n").partition("\n")
    commit = first.removeprefix("commit ")
    try:
        moment = datetime.fromisoformat(when)
    except ValueError:
        raise Damaged(str(git.git_dir), f"the version {commit} has no readable date") from None
    subject, body, trailers = parse_message(message)
    return Commit(commit, tuple(parents.split()), author, moment, subject, body, trailers)
