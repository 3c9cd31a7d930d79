"""Make the pages of a book, many of them beside one another in processes of this machine.

Each process is forked from this one, and so knows what was found here before. A page is the same
to the last letter wherever it is made. Where a process dies, or meets what it cannot make, nothing
comes back: then the page is made, or refused, here.
"""

from collections.abc import Callable, Generator, Iterable, Sequence
from concurrent.futures import Future, wait
from contextlib import ExitStack, suppress
from dataclasses import dataclass
from functools import partial
from itertools import chain

from trueup.cli.book.addresses import SINGLE, is_of_correction, node_at
from trueup.cli.book.packing import Leaf, leaf
from trueup.cli.book.reaching import reach_all
from trueup.cli.book.source import BookSource, Reached
from trueup.cli.book.views import view
from trueup.lineage.evaluation import pool
from trueup.lineage.files.gaps import VersionGap

FEWEST = 30
"""Pages; fewer are made sooner than processes are started and have read what they need."""


@dataclass(frozen=True)
class _Sheaf:
    """Pages that were made together, by their addresses, and what was found of corrections.

    `gaps` are what git could not give meanwhile.
    """

    leaves: dict[str, Leaf]
    reached: dict[tuple[str, str], Reached]
    gaps: tuple[VersionGap, ...]


_at_hand: list[BookSource] = []
"""What a process that was forked makes its pages from."""

_MOST_TOGETHER = 8
"""So many nodes are made together at most, that what is alike in them is found once."""
_SHARES = 8
"""Each process has at least so many shares of the nodes, so that none waits long for the last."""
_WAITS = 0.2
"""Seconds; how often it is told how many pages are made."""

Told = Callable[[int], None]
"""Told how many pages are made."""


def leaves(
    source: BookSource, addresses: Sequence[str], processes: int, told: Told = lambda _: None
) -> Generator[Leaf]:
    """Yield the pages at some addresses, in order, made by so many processes.

    They are not made in that order; how many are made is `told` meanwhile. Raises what a page
    raises that cannot be made.
    """
    # Found first, so that the start page can tell what of all this git does not give.
    source.find_what_pages_share()
    if processes < 2 or len(addresses) < FEWEST or not pool.FORKS:
        for done, address in enumerate(addresses):
            told(done)
            yield _leaf(source, address)
        return
    with ExitStack() as at_work:
        with source.wardrobe.dividing() as begin:
            workers = at_work.enter_context(pool.at_work(processes, partial(_begin, source, begin)))
        sent: dict[str, Future[_Sheaf]] = {}
        for together in _sheaves(source, addresses, processes):
            sent |= dict.fromkeys(together, workers.submit(_made, together))
        every = [*sent.values()]
        for address in addresses:
            sheaf = sent.pop(address, None)
            while sheaf and not sheaf.done():
                wait([sheaf], _WAITS)
                told(sum(each.done() for each in every))
            yield (sheaf and _answer(sheaf, source, address)) or _leaf(source, address)


def _sheaves(source: BookSource, addresses: Iterable[str], processes: int) -> list[tuple[str, ...]]:
    """Return addresses in the order to make their pages in, those that are made together in one.

    A node and its conflicts show the same geometry, which is at hand as long as the next of them
    follows. Nodes below one parent whose steps begin alike have many lines alike: they come one
    after another. What takes longest comes first, so that no process is left alone with it in the
    end.
    """
    conflicts = {each.id: each.arose_at for each in source.state.conflicts}
    about = source.addresses
    sheaves: dict[str, list[str]] = {}
    for address in addresses:
        if is_of_correction(address):
            continue  # told from what the pages of the nodes find, once they are made
        node = conflicts.get(address.removeprefix("conflict/"))
        sheaves.setdefault(about.get(node, address) if node else address, []).append(address)
    alone = [tuple(each) for each in sheaves.values() if each[0] in SINGLE]
    others = [each for each in sheaves.values() if each[0] not in SINGLE]
    others.sort(key=lambda each: _kin(source, each[0]))
    many = max(1, min(_MOST_TOGETHER, len(others) // (processes * _SHARES)))
    shares = (others[first : first + many] for first in range(0, len(others), many))
    return [*alone, *(tuple(chain.from_iterable(each)) for each in shares)]


def _kin(source: BookSource, address: str) -> tuple[object, ...]:
    """Return by what the page of a node stands beside that of the next that is most like it."""
    name = node_at(address)
    if name is None:
        return (1,)
    node = source.state.node(name)
    return 0, [each.name for each in node.parents], [str((s.kind, s.values)) for s in node.steps]


def _begin(source: BookSource, begin: Callable[[], None]) -> None:
    begin()
    _at_hand.append(source)


def _leaf(source: BookSource, address: str) -> Leaf:
    """Return a page, packed; what a correction did at its node is found with it, if need be."""
    made = leaf(view(source, address))
    if (name := node_at(address)) is not None:
        reach_all(source, name)
    return made


def _made(addresses: Iterable[str]) -> _Sheaf:
    """Return the pages at some addresses, without those that cannot be made; done by a worker."""
    source, found = _at_hand[-1], {}
    source.reached.clear()
    for address in addresses:
        with suppress(Exception):
            found[address] = _leaf(source, address)
    return _Sheaf(found, dict(source.reached), tuple(source.wardrobe.gaps))


def _answer(future: "Future[_Sheaf]", source: BookSource, address: str) -> Leaf | None:
    """Return the page that a worker made, None where it made none; it is given only once."""
    try:
        sheaf = future.result()
    except pool.LOST:
        return None
    source.reached.update(sheaf.reached)
    source.wardrobe.gaps.add(sheaf.gaps)
    return sheaf.leaves.pop(address, None)
