"""What two makers of one wardrobe do in their clones, and what became of it."""

import subprocess
from pathlib import Path
from typing import Any

from tests.cli.conftest import Trueup
from trueup.lineage.files.records import ConflictKind, NodeRecord
from trueup.lineage.files.state import State
from trueup.lineage.wardrobe import Wardrobe

SCOOP = ("scoop-armhole", "--piece", "front")


def git(folder: Path, *words: str, fails: bool = False) -> str:
    done = subprocess.run(
        ["git", "-C", str(folder), *words], capture_output=True, text=True, check=False
    )
    assert fails or done.returncode == 0, done.stderr + done.stdout
    return done.stdout.strip()


def clone(ours: Trueup, folder: Path) -> Trueup:
    """Clone a wardrobe with plain git, for another maker."""
    git(ours.folder, "clone", "--quiet", str(ours.folder), str(folder))
    git(folder, "config", "user.name", "Rose Cutter")
    git(folder, "config", "user.email", "rose@example.org")
    return Trueup(folder)


def state(trueup: Trueup) -> State:
    with Wardrobe.open(trueup.folder) as wardrobe:
        return wardrobe.state


def node(trueup: Trueup, name: str) -> NodeRecord:
    return state(trueup).node(name)


def kinds(trueup: Trueup, name: str) -> list[str]:
    return [step.kind for step in node(trueup, name).steps]


def mend(ours: Trueup, theirs: Trueup, *words: str) -> Any:
    return ours.made("mend", str(theirs.folder), *words, "--json").document


def assert_whole(trueup: Trueup) -> None:
    assert git(trueup.folder, "status", "--porcelain") == ""
    assert git(trueup.folder, "for-each-ref", "refs/trueup") == ""
    git(trueup.folder, "fsck", "--strict")
    assert not (trueup.folder / ".git" / "MERGE_HEAD").exists()


def asked(trueup: Trueup) -> list[Any]:
    return [c for c in state(trueup).open_conflicts if c.kind is ConflictKind.TWO_MAKERS]


# --- changes by id ----------------------------------------------------------------------------
