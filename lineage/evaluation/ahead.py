"""Evaluate nodes beside one another, ahead of who asks for them one by one.

Nodes go to the workers in batches, with the drafts they start from, as soon as these are known.
What comes back is what would be worked out here, to the last bit. Where a worker dies, or meets
what it cannot work out, nothing comes back: then it is worked out, or refused, here.
"""

from collections.abc import Iterator, Sequence
from concurrent.futures import Future
from contextlib import suppress
from heapq import heappop, heappush
from time import perf_counter
from typing import Protocol

from trueup.geometry.amounts import Body
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.errors import BadInput, Damaged
from trueup.lineage.evaluation.chain import worked_out
from trueup.lineage.evaluation.lanes import Lanes
from trueup.lineage.evaluation.plain import read_draft, read_summary, to_bytes
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.files.records import NodeRecord, ParentRecord
from trueup.lineage.files.state import State

_LARGEST_BATCH = 16
_MOST_A_WORKER = 4 * _LARGEST_BATCH
"""So many nodes are under way, or done and not asked for yet: more would only fill the memory."""

_STARTS_AT_HAND = 64
_FEWEST_TIMED = 3

Answer = tuple[bytes, bytes] | None
"""Summary and draft of a node as bytes; None where it could not be worked out."""


class Asker(Protocol):
    """Who asks for nodes one by one, and knows what their chains start from."""

    @property
    def state(self) -> State:
        """Return the wardrobe that the nodes are of."""

    def start(self, node: NodeRecord) -> Draft:
        """Return what the chain of a node starts from."""

    def worked(self, name: str) -> NodeRecord:
        """Return a node with the steps it is worked out by."""

    def body(self, name: str) -> Body:
        """Return the measurements that a node's amounts may be bound to."""

    def is_known(self, name: str) -> bool:
        """Return whether a node needs no evaluating."""

    def know_early(self, name: str) -> None:
        """Ask to have a node evaluated ahead of its turn."""


class Ahead:
    """The nodes of one state that will be asked for in a given order, parents before children."""

    def __init__(self, asker: Asker, names: Sequence[str], lanes: Lanes) -> None:
        self._asker, self._lanes = asker, lanes
        self._unasked = set(names)
        self._waits_for: dict[str, set[str]] = {}
        self._below: dict[str, list[str]] = {}
        for name in names:
            parents = {each.name for each in asker.state.node(name).followed} & self._unasked
            self._waits_for[name] = parents
            for parent in parents:
                self._below.setdefault(parent, []).append(name)
        # Those from which others derive come first: what waits for them can then be sent in order.
        self._place = {name: (name not in self._below, at) for at, name in enumerate(names)}
        self._ready = sorted(place for name, place in self._place.items() if self._is_ready(name))
        self._names = names
        self._starts: dict[tuple[ParentRecord, ...], bytes] = {}
        self._sent: dict[str, tuple[Future[list[Answer]], int]] = {}
        self._seconds: list[float] = []
        self._is_taking_in = False

    def evaluated(self, node: NodeRecord) -> tuple[Summary, Draft]:
        """Return what a node evaluates to, by a worker where one was asked.

        Raises BadRecord where there is nothing that its chain could start from.
        """
        self._send()
        answer = self._answer(node.name)
        if answer is not None:
            return read_summary(answer[0]), read_draft(answer[1])
        began = perf_counter()
        start, body = self._asker.start(node), self._asker.body(node.name)
        found = worked_out(self._asker.worked(node.name), start, self._asker.state.unit, body)
        self._seconds.append(perf_counter() - began)
        return found

    def go_on_below(self, name: str) -> None:
        """Send on what waited for a node that is known now."""
        self._unasked.discard(name)
        for child in self._below.pop(name, ()):
            self._waits_for[child].discard(name)
            if self._is_ready(child):
                heappush(self._ready, self._place[child])
        self._send()
        self._take_parents_in()

    def _is_ready(self, name: str) -> bool:
        return not self._waits_for[name] and bool(self._asker.state.node(name).parents)

    def _take_parents_in(self) -> None:
        """Make known what workers worked out already and others derive from, ahead of its turn."""
        if self._is_taking_in:
            return
        self._is_taking_in = True
        while name := next(filter(self._is_answered, self._sent.keys() & self._below.keys()), None):
            self._asker.know_early(name)
        self._is_taking_in = False

    def _is_answered(self, name: str) -> bool:
        future, place = self._sent[name]
        is_done = future.done() and not future.cancelled() and future.exception() is None
        return is_done and future.result()[place] is not None

    def _answer(self, name: str) -> Answer:
        if name not in self._sent:
            return None
        future, place = self._sent.pop(name)
        try:
            return future.result()[place]
        except self._lanes.lost:
            return None

    def _send(self) -> None:
        while self._ready and self._has_room and self._pays:
            batch = tuple(self._next_batch())
            if not batch:
                return
            starts = list(dict.fromkeys(start for _, start in batch))
            asker = self._asker
            work = [
                (starts.index(start), asker.worked(node.name), asker.body(node.name))
                for node, start in batch
            ]
            try:
                future = self._lanes.executor().submit(
                    answers, starts, work, self._asker.state.unit
                )
            except self._lanes.lost:
                self._ready.clear()
                return
            self._sent |= {node.name: (future, place) for place, (node, _) in enumerate(batch)}

    @property
    def _has_room(self) -> bool:
        return len(self._sent) < _MOST_A_WORKER * self._lanes.workers

    @property
    def _pays(self) -> bool:
        """Whether the time that the workers save is more than it takes to start them."""
        if self._sent or self._lanes.workers < 2 or len(self._seconds) < _FEWEST_TIMED:
            return bool(self._sent)
        each = sorted(self._seconds)[len(self._seconds) // 2]
        saved = 1 - 1 / self._lanes.workers
        return len(self._unasked) * each * saved > self._lanes.start_seconds

    def _next_batch(self) -> Iterator[tuple[NodeRecord, bytes]]:
        """Take the next nodes that have to be evaluated, so many that there are some for all."""
        left = min(len(self._ready) // (2 * self._lanes.workers) + 1, _LARGEST_BATCH)
        while self._ready and left:
            node = self._asker.state.node(self._names[heappop(self._ready)[1]])
            if node.name not in self._unasked or self._asker.is_known(node.name):
                continue
            # One that has nothing to start from is refused when it is asked for.
            with suppress(BadInput, Damaged):
                yield node, self._start(node)
                left -= 1

    def _start(self, node: NodeRecord) -> bytes:
        if node.style is not None:  # what it starts from may be its own
            return to_bytes(self._asker.start(node))
        if node.parents not in self._starts:
            if len(self._starts) >= _STARTS_AT_HAND:
                self._starts.clear()
            self._starts[node.parents] = to_bytes(self._asker.start(node))
        return self._starts[node.parents]


def answers(
    starts: Sequence[bytes], work: Sequence[tuple[int, NodeRecord, Body]], unit: Unit
) -> list[Answer]:
    """Return what nodes evaluate to, each starting from one of some drafts; done by a worker."""
    drafts = [read_draft(each) for each in starts]
    return [_answer(drafts[start], node, unit, body) for start, node, body in work]


def _answer(start: Draft, node: NodeRecord, unit: Unit, body: Body) -> Answer:
    try:
        summary, draft = worked_out(node, start, unit, body)
    except (GeometryError, BadInput, Damaged):
        return None
    return to_bytes(summary), to_bytes(draft)
