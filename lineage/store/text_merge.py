"""Join two texts line by line, as git would, without any program a repository could name."""

import os
import tempfile
from pathlib import Path

from lineage.errors import CannotWrite
from lineage.store.paths import OWN_FOLDER
from lineage.store.quiet_git import QuietGit

_NAMES = ("ours", "base", "theirs")


def merged_text(git: QuietGit, base: bytes, ours: bytes, theirs: bytes) -> bytes | None:
    """Return both changes in one text; None where they touch the same lines, or are no text."""
    try:
        with tempfile.TemporaryDirectory(prefix="merging-", dir=_room(git)) as folder:
            places = [Path(folder) / name for name in _NAMES]
            for place, content in zip(places, (ours, base, theirs), strict=True):
                place.write_bytes(content)
            # Not `git merge-tree`: that asks the repository which program merges a file.
            answer = git.ask("merge-file", "-p", "-q", *map(str, places))
    except OSError as error:
        raise CannotWrite(str(git.git_dir), error.strerror or str(error)) from error
    return answer.output if answer.status == 0 else None


def _room(git: QuietGit) -> Path | None:
    """Return where the texts lie meanwhile: beside git's files, or where temporary ones do."""
    room = git.git_dir / OWN_FOLDER
    return room if os.access(room, os.W_OK | os.X_OK) else None
