"""Show on a terminal how far work that takes a while has come, and nothing at all elsewhere."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from rich.console import Console

from trueup.lineage.opened import OpenWardrobe

_FEWEST = 2
"""Of a single pattern there is nothing to count."""


@contextmanager
def patience(wardrobe: OpenWardrobe) -> Iterator[None]:
    """Tell on stderr how many patterns of a wardrobe are done, of how many, while they are."""
    if not sys.stderr.isatty():
        yield
        return
    with Console(stderr=True).status("Working it out ...", spinner="line") as status:

        def tell(done: int, of: int) -> None:
            if of >= _FEWEST:
                status.update(f"{done} of {of} patterns")

        wardrobe.progress = tell
        try:
            yield
        finally:
            wardrobe.progress = None
