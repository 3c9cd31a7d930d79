"""Start a git: plainly for who reads, by GitPython for who writes.

Loading GitPython takes longer than most reading verbs, and it asks git for its version each time;
beside what a step takes that is little.
"""

import os
import subprocess
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import IO, BinaryIO, cast

from trueup.lineage.errors import GitMissing

Process = subprocess.Popen[bytes]


def git_program() -> str:
    """Return the git that is started; raises `GitMissing` where there is none.

    Windows would look for it first in the folder the maker stands in, where a stranger may have
    laid another: there it is named in full.
    """
    if os.name != "nt":
        return "git"
    folders = (Path(folder) for folder in os.get_exec_path() if Path(folder).is_absolute())
    program = next((each / "git.exe" for each in folders if (each / "git.exe").is_file()), None)
    if program is None:
        raise GitMissing
    return str(program)


def started_to_read(
    command: Sequence[str], folder: Path, environment: Mapping[str, str], feed: int | IO[bytes]
) -> Process:
    """Return a git that runs in a folder; raises `GitMissing`.

    `feed` is what it reads: a file that is open, or what `subprocess` has for a pipe or nothing.
    """
    try:
        return subprocess.Popen(
            command,
            cwd=folder if os.access(folder, os.X_OK) else None,
            env={**os.environ, **environment},
            stdin=feed,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),  # of Windows
        )
    except FileNotFoundError as error:
        raise GitMissing from error


def started_to_write(
    command: Sequence[str],
    folder: Path,
    environment: Mapping[str, str],
    feed: int | IO[bytes],
    kept_open: tuple[int, ...],
) -> Process:
    """Return the same of a writer: it inherits what is `kept_open`, and so the writer's lock."""
    try:
        from git.cmd import Git  # noqa: PLC0415
        from git.exc import GitCommandNotFound  # noqa: PLC0415
    except ImportError as error:  # it fails outright where git is not installed
        raise GitMissing from error
    try:
        started = Git(str(folder)).execute(
            list(command),
            env=dict(environment),
            istream=cast("int | BinaryIO", feed),
            as_process=True,
            pass_fds=kept_open if os.name == "posix" else (),
        )
    except GitCommandNotFound as error:
        raise GitMissing from error
    process, started.proc = started.proc, None  # it is ended here, and not when it is forgotten
    return cast("Process", process)
