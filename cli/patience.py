"""Show on a terminal how many patterns of a wardrobe are done, and nothing at all elsewhere."""

from collections.abc import Iterator
from contextlib import contextmanager

from trueup.cli.terminal.waiting import waiting
from trueup.lineage.opened import OpenWardrobe


@contextmanager
def patience(wardrobe: OpenWardrobe, *, silent: bool = False) -> Iterator[None]:
    """Tell on stderr how many patterns of a wardrobe are done, of how many, while they are.

    Whoever hears of them already goes on hearing of them.
    """
    before = wardrobe.progress
    with waiting("patterns", silent=silent) as tell:

        def both(done: int, of: int) -> None:
            if before is not None:
                before(done, of)
            tell(done, of)

        wardrobe.progress = both
        try:
            yield
        finally:
            wardrobe.progress = before
