"""Derive a lost list of files from those of the versions before and after it.

A step changes few files, so most lines of the list stand in its neighbours; those it changed are
among the things that nothing else needs. The id says when the right ones were found.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, islice, product

from lineage.restoring.stored.loose import digest
from lineage.restoring.stored.missing import Entry, tree_text

MOST_TRIES = 20_000
"""Lists tried for one that is lost; a step that changed one file needs a handful."""

MOST_EXCHANGED = 3
"""Lines of a list that are taken for changed by one step, where the neighbours do not say which."""


def derived_list(
    lost: str,
    beside: Sequence[Sequence[Entry]],
    unneeded: Sequence[tuple[bool, str]],
) -> bytes | None:
    """Return the content of the list of files whose id is `lost`; None where it is not found.

    `beside` are the lists of the versions before and after those that have it; `unneeded` is what
    nothing stored needs: is it a list of files, and its id.
    """
    for lines in islice(_candidates(beside, unneeded), MOST_TRIES):
        content = tree_text(lines)
        if digest(b"tree", content, len(lost)) == lost:
            return content
    return None


def _candidates(
    beside: Sequence[Sequence[Entry]],
    unneeded: Sequence[tuple[bool, str]],
) -> Iterator[list[Entry]]:
    known = [{e.name: e for e in lines} for lines in beside]
    names = dict.fromkeys(name for lines in known for name in lines)
    options = {name: list(dict.fromkeys(lines.get(name) for lines in known)) for name in names}
    yield from _each(options)
    # As few lines as possible are exchanged for something that nothing needs.
    for count in range(1, MOST_EXCHANGED + 1):
        for lines in known:
            yield from _exchanged(lines, unneeded, count)
    parted = {
        name: [*found, *_others(next(each for each in found if each), unneeded)]
        if len(found) > 1
        else found
        for name, found in options.items()
    }
    yield from _each(parted)


def _exchanged(
    lines: Mapping[bytes, Entry], unneeded: Sequence[tuple[bool, str]], count: int
) -> Iterator[list[Entry]]:
    """Yield a list with so many of its lines standing for something else."""
    for chosen in combinations(lines.values(), count):
        stays = [entry for entry in lines.values() if entry not in chosen]
        for others in product(*(_others(entry, unneeded) for entry in chosen)):
            yield [*stays, *others]


def _each(options: dict[bytes, list[Entry | None]]) -> Iterator[list[Entry]]:
    for chosen in product(*options.values()):
        yield [entry for entry in chosen if entry is not None]


def _others(entry: Entry, unneeded: Sequence[tuple[bool, str]]) -> list[Entry]:
    return [
        Entry(entry.mode, entry.name, other)
        for is_folder, other in unneeded
        if is_folder == entry.is_folder
    ]
