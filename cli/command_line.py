"""Commands for the maker to run next, written so that a shell takes them as they stand."""

import shlex
from pathlib import Path

from msgspec import Struct


class CommandLine(Struct, frozen=True):
    """Writes full command lines for one wardrobe; `folder` as `-C` named it, None when it did not.

    >>> CommandLine(Path("my wardrobe")).line("decide", "seam-1a2b3c", "refit-cap")
    "trueup -C 'my wardrobe' decide seam-1a2b3c refit-cap"
    """

    folder: Path | None = None

    def line(self, *words: str) -> str:
        """Return the command line for a verb and its words."""
        place = ("-C", str(self.folder)) if self.folder is not None else ()
        return shlex.join(("trueup", *place, *words))

    def decide(self, conflict: str, remedy: str) -> str:
        """Return the command line that settles a conflict by a remedy."""
        return self.line("decide", conflict, remedy)
