"""Make the pages of a book, many of them beside one another in processes of this machine.

Each process is forked from this one, and so knows what was found here before. A page is the same
to the last letter wherever it is made. Where a process dies, or meets what it cannot make, nothing
comes back: then the page is made, or refused, here.
"""

from collections.abc import Callable, Generator, Iterable, Sequence
from concurrent.futures import Future
from contextlib import ExitStack, suppress
from dataclasses import dataclass
from functools import partial

from trueup.cli.book.addresses import SINGLE, is_of_correction, node_at
from trueup.cli.book.packing import Leaf, leaf
from trueup.cli.book.reaching import reach_all
from trueup.cli.book.source import BookSource, Reached
from trueup.cli.book.views import view
from trueup.lineage.evaluation import pool

FEWEST = 30
"""Pages; fewer are made sooner than processes are started and have read what they need."""


@dataclass(frozen=True)
class _Sheaf:
    """Pages that were made together, by their addresses, and what was found of corrections."""

    leaves: dict[str, Leaf]
    reached: dict[tuple[str, str], Reached]


_at_hand: list[BookSource] = []
"""What a process that was forked makes its pages from."""


def leaves(source: BookSource, addresses: Sequence[str], processes: int) -> Generator[Leaf]:
    """Yield the pages at some addresses, in order, made by so many processes.

    Raises what a page raises that cannot be made.
    """
    if processes < 2 or len(addresses) < FEWEST or not pool.FORKS:
        yield from (_leaf(source, address) for address in addresses)
        return
    source.find_what_pages_share()
    with ExitStack() as at_work:
        with source.wardrobe.dividing() as begin:
            workers = at_work.enter_context(pool.at_work(processes, partial(_begin, source, begin)))
        sent: dict[str, Future[_Sheaf]] = {}
        for together in _sheaves(source, addresses):
            sent |= dict.fromkeys(together, workers.submit(_made, together))
        for address in addresses:
            sheaf = sent.pop(address, None)
            yield (sheaf and _answer(sheaf, source, address)) or _leaf(source, address)


def _sheaves(source: BookSource, addresses: Iterable[str]) -> list[tuple[str, ...]]:
    """Return addresses in the order to make their pages in, those that are made together in one.

    A node and its conflicts show the same geometry, which is at hand as long as the next of them
    follows. What takes longest comes first, so that no process is left alone with it in the end.
    """
    conflicts = {each.id: each.arose_at for each in source.state.conflicts}
    about = source.addresses
    sheaves: dict[str, list[str]] = {}
    for address in addresses:
        if is_of_correction(address):
            continue  # told from what the pages of the nodes find, once they are made
        node = conflicts.get(address.removeprefix("conflict/"))
        sheaves.setdefault(about.get(node, address) if node else address, []).append(address)
    longest = sorted(sheaves.values(), key=lambda each: each[0] in SINGLE, reverse=True)
    return [tuple(each) for each in longest]


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
    return _Sheaf(found, dict(source.reached))


def _answer(future: "Future[_Sheaf]", source: BookSource, address: str) -> Leaf | None:
    """Return the page that a worker made, None where it made none; it is given only once."""
    try:
        sheaf = future.result()
    except pool.LOST:
        return None
    source.reached.update(sheaf.reached)
    return sheaf.leaves.pop(address, None)
