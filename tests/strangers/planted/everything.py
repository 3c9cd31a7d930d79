"""All that is planted, by its name, and each file of git's own as a pipe."""

from collections.abc import Mapping
from pathlib import Path

from tests.strangers.planted import configs, histories, left_behind, references, trees
from tests.strangers.planted.putting import Plant, pipe

PLANTED: Mapping[str, Plant] = {
    f"{idea}: {name}": plant
    for idea, module in (
        ("settings", configs),
        ("history", histories),
        ("references", references),
        ("left behind", left_behind),
        ("files", trees),
    )
    for name, plant in module.PLANTED.items()
}

ANOTHER_HISTORY = (
    *("history: shallow", "files: recorded", "files: trees"),
    "references: the branch is 'ref: refs/remotes/origin/main'",
)
"""Where the history itself is another, `history` may tell another one."""


def pipes_in(folder: Path) -> Mapping[str, Plant]:
    """Return for each file of a wardrobe the plant that makes a pipe of it."""
    files = sorted(p.relative_to(folder) for p in folder.rglob("*") if p.is_file())
    return {f"{file} is a pipe": _piped(file) for file in files}


def _piped(file: Path) -> Plant:
    return lambda _, folder: pipe(folder / file)
