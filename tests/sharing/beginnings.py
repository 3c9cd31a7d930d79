"""What many tests begin with: done in a wardrobe once, and copied for the others."""

import shutil
from collections.abc import Callable
from pathlib import Path

from tests.sharing.copied import copied, keep_for_others


class Beginnings:
    """Wardrobes as they were after something was done in them, by what that was."""

    def __init__(self, place: Path) -> None:
        """Keep them in a folder."""
        self._place = place
        self._kept: dict[tuple[str, str, str], Path] = {}

    def begin(self, wardrobe: Path, act: Callable[[], object]) -> None:
        """Do something in a wardrobe that has no edits; the second time, take what it came to.

        What is done follows from the function and the wardrobe's version alone.
        """
        head = (wardrobe / ".git/refs/heads/main").read_text()
        done = (act.__module__, act.__qualname__, head)
        if done in self._kept:
            shutil.rmtree(wardrobe)
            copied(self._kept[done], wardrobe)
            return
        act()
        self._kept[done] = copied(wardrobe, self._place / str(len(self._kept)))
        keep_for_others(self._kept[done])
