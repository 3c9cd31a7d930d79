"""How many letters has an id in a repository: is it one of SHA-1 or of SHA-256?"""

import re
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from trueup.lineage.restoring.named.reading import plain_content
from trueup.lineage.restoring.plain import GitEntry

_SHA256 = re.compile(rb"^\s*objectformat\s*=\s*sha256\s*$", re.MULTILINE | re.IGNORECASE)


def letters_of(git_dir: Path, lying: Iterable[GitEntry]) -> int:
    """Return how many letters an id has here: by what is stored, by the log, by git's settings."""
    files = {each.path for each in lying if each.is_file}
    names = (path.split("/") for path in files)
    lengths = Counter(len(n[1] + n[2]) for n in names if n[0] == "objects" and len(n) == 3)
    log = plain_content(git_dir / "logs" / "HEAD") if "logs/HEAD" in files else None
    for letters in (*(each for each, _ in lengths.most_common()), len((log or b"").split(b" ")[0])):
        if letters in (40, 64):
            return letters
    content = plain_content(git_dir / "config") if "config" in files else None
    return 64 if _SHA256.search(content or b"") else 40
