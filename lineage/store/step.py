"""One step, from new contents to a moved branch, such that a kill at any moment does no harm.

    1. the contents, the tree and the commit are written, and `STEP` is pointed at the commit
    2. the branch is moved to it, if nobody moved it first: the step now counts
    3. the working files and git's index follow
    4. `STEP` is taken away

While `STEP` exists the step is not finished. Whoever next takes the lock finds it and finishes
it, or drops it if the branch went elsewhere; see `Writer`. Git writes `STEP` only once
everything under it is stored, so there is no journal of our own that could be half written.
"""

import tempfile
from collections.abc import Mapping
from contextlib import suppress
from typing import IO

from lineage.errors import Busy, CannotWrite, MovedOn
from lineage.store.objects import look_up
from lineage.store.quiet_git import QuietGit
from lineage.store.working_files import Change

STEP = "refs/trueup/step"
"""The ref that keeps an unfinished step."""


def record(
    git: QuietGit,
    parent: str | None,
    writes: Mapping[str, bytes | None],
    message: str,
    joins: str | None = None,
) -> str:
    """Store a commit with the given files written (None: taken out) and return its id.

    `joins` is a second parent. Points `STEP` at it; no branch moves. Raises `CannotWrite`.
    """
    try:
        with tempfile.TemporaryFile(dir=git.git_dir) as stream:
            _write_stream(stream, parent, writes, message, git.maker(), joins)
            stream.seek(0)
            answer = git.ask("fast-import", "--quiet", "--force", "--done", feed=stream)
    except OSError as error:
        raise CannotWrite(str(git.git_dir), error.strerror or str(error)) from error
    if answer.status != 0:
        _clear_reports(git)
        if answer.status < 0:
            raise CannotWrite(str(git.git_dir), f"git was stopped by signal {-answer.status}")
        raise git.failure(answer.complaint)
    return answer.output.decode().strip()


def _clear_reports(git: QuietGit) -> None:
    for report in git.git_dir.glob("fast_import_crash_*"):
        with suppress(OSError):
            report.unlink()


def _write_stream(
    stream: IO[bytes],
    parent: str | None,
    writes: Mapping[str, bytes | None],
    message: str,
    maker: str,
    joins: str | None,
) -> None:
    """Write the step in the format of `git fast-import`, which applies no filter to contents."""
    stream.write(f"commit {STEP}\nmark :1\nauthor {maker}\ncommitter {maker}\n".encode())
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

    Raises `MovedOn`, `Busy` where another git holds the branch, `CannotWrite`.
    """
    old = expected or "0" * len(target)
    answer = git.ask("update-ref", "-m", "trueup: step", branch, target, old)
    if answer.status == 0:
        return
    (found,) = look_up(git, [branch])
    if found is not None and found.id != expected:
        raise MovedOn(expected or "", found.id)
    if "file exists" in answer.complaint.lower():
        raise Busy(git.work_tree, "another git command")
    raise git.failure(answer.complaint)


def bring_index(git: QuietGit, target: str, changes: Mapping[str, Change]) -> None:
    """Bring git's index to the commit `target`, for the changed files only.

    What the maker put into the index themselves stays there.
    """
    if not (git.git_dir / "index").exists():
        git.run("read-tree", target)
        return
    entries = "".join(
        f"0 {'0' * len(target)}\t{path}\0"
        if change.after is None
        else f"100644 {change.after}\t{path}\0"
        for path, change in changes.items()
    )
    if entries:
        git.run("update-index", "-z", "--index-info", feed=entries.encode())


def forget(git: QuietGit) -> None:
    """Take `STEP` away: the step is finished, or dropped."""
    answer = git.ask("update-ref", "-d", STEP)
    if answer.status != 0:
        # On a full disk git cannot make its lock files; the name can still be taken away.
        try:
            (git.git_dir / STEP).unlink(missing_ok=True)
        except OSError as error:
            raise git.failure(answer.complaint) from error
