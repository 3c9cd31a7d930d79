"""Join two texts line by line, as git would, without any program a repository could name."""

import tempfile
from pathlib import Path

from lineage.errors import CannotWrite
from lineage.store.quiet_git import QuietGit

_NAMES = ("ours", "base", "theirs")


def merged_text(git: QuietGit, base: bytes, ours: bytes, theirs: bytes) -> bytes | None:
    """Return both changes in one text; None where they touch the same lines, or are no text."""
    try:
        with tempfile.TemporaryDirectory(prefix="trueup-") as folder:
            places = [Path(folder) / name for name in _NAMES]
            for place, content in zip(places, (ours, base, theirs), strict=True):
                place.write_bytes(content)
            # Not `git merge-tree`: that asks the repository which program merges a file.
            answer = git.ask("merge-file", "-p", "-q", *map(str, places))
    except OSError as error:
        raise CannotWrite(tempfile.gettempdir(), error.strerror or str(error)) from error
    return answer.output if answer.status == 0 else None
