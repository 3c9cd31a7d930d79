"""Derive a lost list of files from those of the versions before and after it.

A step changes few files, so most lines of the list stand in its neighbours; those it changed are
among the things that nothing else needs. The id says when the right ones were found.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from trueup.lineage.restoring.stored.loose import digest
from trueup.lineage.restoring.stored.missing import ListEntry, line_text

MOST_EXCHANGED = 3
"""Lines of a list that are taken for changed by one step, where the neighbours do not say which."""

Unneeded = Sequence[tuple[bool, str]]
"""Things that nothing stored needs: is it a list of files, and its id."""


@dataclass
class Patience:
    """How many lists may still be tried; shared by all that are lost, for they may be many."""

    left: int

    def is_over(self) -> bool:
        """Count one try, and return whether it is one too many."""
        self.left -= 1
        return self.left < 0


def derived_list(
    lost: str, beside: Sequence[Sequence[ListEntry]], unneeded: Unneeded, patience: Patience
) -> bytes | None:
    """Return the content of the list of files whose id is `lost`; None where it is not found.

    `beside` are the lists of the versions before and after those that have it.
    """
    for content in _candidates(beside, unneeded):
        if patience.is_over():
            return None
        if digest(b"tree", content, len(lost)) == lost:
            return content
    return None


def _candidates(beside: Sequence[Sequence[ListEntry]], unneeded: Unneeded) -> Iterator[bytes]:
    known = [{e.name: e for e in lines} for lines in beside]
    some = {entry.name: entry for lines in known for entry in lines.values()}
    ordered = [entry.name for entry in sorted(some.values(), key=lambda entry: entry.order)]
    options = [list(dict.fromkeys(lines.get(name) for lines in known)) for name in ordered]
    yield from _each(options)
    # As few lines as possible are exchanged for something that nothing needs.
    for count in range(1, MOST_EXCHANGED + 1):
        for lines in known:
            entries = [lines[name] for name in ordered if name in lines]
            yield from _exchanged(entries, unneeded, count)
    yield from _each(
        [
            [*found, *_others(some[name], unneeded)] if len(found) > 1 else found
            for name, found in zip(ordered, options, strict=True)
        ]
    )


def _each(options: Sequence[Sequence[ListEntry | None]]) -> Iterator[bytes]:
    """Yield every list that has, of each line, one of its options."""
    texts = [[line_text(entry) if entry else b"" for entry in found] for found in options]
    for chosen in product(*texts):
        yield b"".join(chosen)


def _exchanged(entries: Sequence[ListEntry], unneeded: Unneeded, count: int) -> Iterator[bytes]:
    """Yield a list with so many of its lines standing for something else."""
    texts = [line_text(entry) for entry in entries]
    others = [[line_text(other) for other in _others(entry, unneeded)] for entry in entries]
    open_places = [place for place, some in enumerate(others) if some]
    for places in combinations(open_places, count):
        for chosen in product(*(others[place] for place in places)):
            lines = list(texts)
            for place, text in zip(places, chosen, strict=True):
                lines[place] = text
            yield b"".join(lines)


def _others(entry: ListEntry, unneeded: Unneeded) -> list[ListEntry]:
    return [
        ListEntry(entry.mode, entry.name, other)
        for is_folder, other in unneeded
        if is_folder == entry.is_folder
    ]
