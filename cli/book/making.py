"""Make the pages of a book, many of them beside one another in processes of this machine.

Each process is forked from this one, and so knows what was found here before. A page is the same
to the last letter wherever it is made. Where a process dies, or meets what it cannot make, nothing
comes back: then the page is made, or refused, here.
"""

from collections.abc import Callable, Generator, Iterable, Sequence
from concurrent.futures import Future
from contextlib import ExitStack, suppress
from functools import partial

from trueup.cli.book.addresses import tells_of_all
from trueup.cli.book.packing import Leaf, leaf
from trueup.cli.book.source import BookSource
from trueup.cli.book.views import view
from trueup.lineage.evaluation import pool

FEWEST = 30
"""Pages; fewer are made sooner than processes are started and have read what they need."""

_at_hand: list[BookSource] = []
"""What a process that was forked makes its pages from."""


def leaves(source: BookSource, addresses: Sequence[str], processes: int) -> Generator[Leaf]:
    """Yield the pages at some addresses, in order, made by so many processes.

    Raises what a page raises that cannot be made.
    """
    if processes < 2 or len(addresses) < FEWEST or not pool.FORKS:
        yield from (leaf(view(source, address)) for address in addresses)
        return
    source.find_what_pages_share()
    with ExitStack() as at_work:
        with source.wardrobe.dividing() as begin:
            workers = at_work.enter_context(pool.at_work(processes, partial(_begin, source, begin)))
        sent: dict[str, Future[dict[str, Leaf]]] = {}
        for together in _sheaves(source, addresses):
            sent |= dict.fromkeys(together, workers.submit(_made, together))
        for address in addresses:
            yield _answer(sent.pop(address), address) or leaf(view(source, address))


def _sheaves(source: BookSource, addresses: Iterable[str]) -> list[tuple[str, ...]]:
    """Return addresses in the order to make their pages in, those that are made together in one.

    A node and its conflicts show the same geometry, which is at hand as long as the next of them
    follows. What takes longest comes first, so that no process is left alone with it in the end.
    """
    conflicts = {each.id: each.arose_at for each in source.state.conflicts}
    about = source.addresses
    sheaves: dict[str, list[str]] = {}
    for address in addresses:
        node = conflicts.get(address.removeprefix("conflict/"))
        sheaves.setdefault(about.get(node, address) if node else address, []).append(address)
    longest = sorted(sheaves.values(), key=lambda each: tells_of_all(each[0]), reverse=True)
    return [tuple(each) for each in longest]


def _begin(source: BookSource, begin: Callable[[], None]) -> None:
    begin()
    _at_hand.append(source)


def _made(addresses: Iterable[str]) -> dict[str, Leaf]:
    """Return the pages at some addresses, without those that cannot be made; done by a worker."""
    found = {}
    for address in addresses:
        with suppress(Exception):
            found[address] = leaf(view(_at_hand[-1], address))
    return found


def _answer(future: "Future[dict[str, Leaf]]", address: str) -> Leaf | None:
    """Return the page that a worker made, None where it made none; it is given only once."""
    try:
        return future.result().pop(address, None)
    except pool.LOST:
        return None
