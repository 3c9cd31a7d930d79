"""Copies of a wardrobe, each with what is kept of it: nothing is evaluated once for every copy.

Rows of the cache are found by their content, and its file by where the wardrobe lies: a copy of the
folder alone begins with nothing.
"""

import shutil
from pathlib import Path

from trueup.lineage.evaluation.cache.file_cache import cache_file

KEPT_FOR_OTHERS: set[Path] = set()
"""Files of the cache that outlive the test that made them."""


def copied(wardrobe: Path, to: Path) -> Path:
    """Copy a wardrobe to a new folder, which is returned."""
    shutil.copytree(wardrobe, to, symlinks=True)
    lend(wardrobe, to)
    return to


def lend(wardrobe: Path, other: Path) -> None:
    """Let a copy or a clone that nobody has opened begin with what is kept of a wardrobe."""
    kept, wanted = cache_file(wardrobe), cache_file(other)
    if kept and wanted and kept[0].is_file():
        shutil.copy(kept[0], wanted[0])


def keep_for_others(wardrobe: Path) -> None:
    """Let what is kept of a wardrobe outlive the test at hand: others are to copy it."""
    kept = cache_file(wardrobe)
    if kept:
        KEPT_FOR_OTHERS.add(kept[0])
