"""What is left of a step or a merge on its way: the few lines in which it is kept."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path

from trueup.lineage.restoring.acts import Act, Aside
from trueup.lineage.restoring.findings import Cure, Trouble, Wrong
from trueup.lineage.store.writing import unfinished

STEP = ".git/trueup/step"
WAITING = ".git/trueup/waiting"

_ID = re.compile(rb"[0-9a-f]{40}(?:[0-9a-f]{24})?")
_OF_MERGES = ("MERGE_HEAD", "MERGE_MODE", "MERGE_MSG", "MERGE_RR", "AUTO_MERGE")
_LONGEST = 65536

Read = Callable[[str], bytes | None]


def of_step(git_dir: Path, is_there: bool) -> Iterator[tuple[Trouble, tuple[Act, ...]]]:
    """Yield the line of a step on its way that names none, with what waits for that step.

    What waits may be the maker's own: who saved a file while it was replaced finds it there.
    """
    if is_there and unfinished.read(git_dir) is None:
        yield Trouble(Wrong.STEP, STEP, Cure.ASIDE), (Aside(WAITING), Aside(STEP))


def of_merge(
    read: Read, is_version: Callable[[str], bool]
) -> Iterator[tuple[Trouble, tuple[Act, ...]]]:
    """Yield what git keeps of a merge and of a fetch that names no version that is here."""
    content = read(".git/MERGE_HEAD")
    if content is not None and not _all_versions(content.splitlines(), is_version):
        acts = tuple(Aside(f".git/{name}") for name in _OF_MERGES)
        yield Trouble(Wrong.MERGE, ".git/MERGE_HEAD", Cure.ASIDE), acts
    content = read(".git/FETCH_HEAD")
    if content:
        lines = [line[:_LONGEST].partition(b"\t")[0] for line in content.splitlines()]
        if not _all_versions(lines, is_version):
            yield Trouble(Wrong.MERGE, ".git/FETCH_HEAD", Cure.ASIDE), (Aside(".git/FETCH_HEAD"),)


def _all_versions(lines: list[bytes], is_version: Callable[[str], bool]) -> bool:
    return bool(lines) and all(_ID.fullmatch(line) and is_version(line.decode()) for line in lines)
