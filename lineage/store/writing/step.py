"""One step, from new contents to a moved branch, such that a kill at any moment does no harm.

    1. the contents, the tree and the commit are made aside and moved among git's objects (`making`)
    2. one line says that a step is on its way, and which (`unfinished`)
    3. the branch is moved to it, if nobody moved it first: the step now counts
    4. the working files and git's index follow
    5. the line is taken away

While the line is there the step is not finished. Whoever next takes the lock finds it and finishes
the step, or drops it if the branch went elsewhere; see `Writer`.
"""

import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import IO

from trueup.lineage.errors import MovedOn, StepUnclear, WardrobeError
from trueup.lineage.limits import LARGEST_RECORD
from trueup.lineage.store.files.plain_file import NotPlain, read_plain
from trueup.lineage.store.git.making import making
from trueup.lineage.store.git.objects import look_up
from trueup.lineage.store.git.quiet_git import QuietGit

_MAKING = "refs/heads/making"
_BRANCHES = "refs/heads/"
_KEPT_OTHERWISE = "refs/heads/.invalid"
"""What stands in HEAD where git keeps its branches in tables of its own (`reftable`)."""


def record(
    git: QuietGit,
    parent: str | None,
    writes: Mapping[str, bytes | None],
    message: str,
    joins: str | None = None,
) -> str:
    """Store a commit with the given files written (None: taken out) and return its id.

    `joins` is a second parent. No branch moves. Raises `CannotWrite`, `GitStopped`, `Damaged`.
    """
    maker = git.maker()
    with making(git, parent or "") as there, tempfile.TemporaryFile(dir=there.git_dir) as stream:
        _write_stream(stream, parent, writes, message, maker, joins)
        stream.seek(0)
        answer = there.ask("fast-import", "--quiet", "--force", "--done", feed=stream)
        if answer.status != 0:
            raise git.failure("fast-import", answer)
        return answer.output.decode().strip()


def _write_stream(
    stream: IO[bytes],
    parent: str | None,
    writes: Mapping[str, bytes | None],
    message: str,
    maker: str,
    joins: str | None,
) -> None:
    """Write the step in the format of `git fast-import`, which applies no filter to contents."""
    stream.write(f"commit {_MAKING}\nmark :1\nauthor {maker}\ncommitter {maker}\n".encode())
    _write_data(stream, message.encode())
    if parent is not None:
        stream.write(f"from {parent}\n".encode())
    if joins is not None:
        stream.write(f"merge {joins}\n".encode())
    for path, content in writes.items():
        quoted = path.replace("\\", "\\\\").replace('"', '\\"')
        if content is None:
            stream.write(f'D "{quoted}"\n'.encode())
        else:
            stream.write(f'M 100644 inline "{quoted}"\n'.encode())
            _write_data(stream, content)
    stream.write(b"get-mark :1\ndone\n")


def _write_data(stream: IO[bytes], content: bytes) -> None:
    stream.write(b"data %d\n" % len(content))
    stream.write(content)
    stream.write(b"\n")


def move_branch(git: QuietGit, branch: str, target: str, expected: str | None) -> None:
    """Move `branch` to the commit `target` if it still is at `expected` (None: not yet there).

    What counts is where the branch then is, and not what git says of it: it may have moved, and
    only a log of git's could not be written. Raises `MovedOn`, `Locked` where another git holds the
    branch, `CannotWrite`, `GitStopped`, all with the branch not moved; `StepUnclear` where that
    cannot be seen.
    """
    old = expected or "0" * len(target)
    answer = git.ask("update-ref", "-m", "trueup: step", branch, target, old)
    if answer.status == 0:
        return
    failure = git.failure("update-ref", answer)
    try:
        (found,) = look_up(git, [branch])
    except WardrobeError as error:
        raise StepUnclear(str(git.git_dir / branch), str(error)) from failure
    if found is not None and found.id == target:
        return
    if found is not None and found.id != expected:
        raise MovedOn(expected or "", found.id)
    if found is None and expected is not None:
        raise StepUnclear(str(git.git_dir / branch), "it is not to be read") from failure
    raise failure


def current_branch(git: QuietGit) -> str | None:
    """Return the full name of the branch the wardrobe stands on, None where on none."""
    # Git says no more than the file does, unless it keeps its branches otherwise.
    with suppress(NotPlain, UnicodeDecodeError):
        content = read_plain(git.git_dir / "HEAD", LARGEST_RECORD, follow=False).decode("ascii")
        name = content.removeprefix("ref: ").rstrip("\n")
        if name != content and name.startswith(_BRANCHES) and name != _KEPT_OTHERWISE:
            return name
    answer = git.ask("symbolic-ref", "--quiet", "HEAD")
    name = answer.output.decode(errors="replace").strip()
    return name if name.startswith(_BRANCHES) else None


def locks_of(git: QuietGit, branch: str) -> tuple[Path, ...]:
    """Return the lock files that git makes to move a branch."""
    return tuple(git.git_dir / f"{name}.lock" for name in ("HEAD", branch))
