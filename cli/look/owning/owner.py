"""The thread that owns the wardrobe: whatever is asked of it is put to this thread, one by one."""

import heapq
from collections.abc import Callable
from concurrent.futures import Future
from contextlib import AbstractContextManager
from itertools import count
from threading import Condition, Thread

from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import GivenUp, Job, Urgency
from trueup.cli.look.owning.telling import refusal


class Owner:
    """Opens a wardrobe in a thread of its own and does there what it is asked, until it is closed.

    A wardrobe, its cache and its evaluators are for one thread; so none of them needs a lock.
    """

    def __init__(self, opening: Callable[[], AbstractContextManager[Desk]]) -> None:
        self._opening = opening
        self._waiting: list[tuple[int, int, Job]] = []
        self._numbers = count()
        self._current: Job | None = None
        self._is_closed = False
        self._changed = Condition()
        self._opened: Future[None] = Future()
        self._ended: Future[None] = Future()
        self._thread = Thread(target=self._own, name="wardrobe", daemon=True)

    def start(self) -> None:
        """Open the wardrobe; raises what opening it raises."""
        self._thread.start()
        self._opened.result()

    def put(self, job: Job) -> None:
        """Ask for something; what it takes the place of is given up."""
        with self._changed:
            if self._is_closed:
                job.deliver(None)
                return
            replaced = [each for _, _, each in self._waiting if each.is_replaced_by(job)]
            if self._current is not None and self._current.is_replaced_by(job):
                self._current.give_up()
            for each in replaced:
                each.give_up()
            heapq.heappush(self._waiting, (job.urgency, next(self._numbers), job))
            self._changed.notify()

    def close(self) -> None:
        """Give up what is under way, but for a step, and let go of the wardrobe.

        Raises what letting go of it raises.
        """
        with self._changed:
            self._is_closed = True
            for _, _, job in self._waiting:
                job.give_up()
            if self._current is not None and self._current.urgency is not Urgency.STEP:
                self._current.give_up()
            self._changed.notify()
        self._ended.result()

    def _own(self) -> None:
        try:
            with self._opening() as desk:
                self._opened.set_result(None)
                while (job := self._next()) is not None:
                    self._do(job, desk)
        except BaseException as error:
            if self._opened.done():
                self._ended.set_exception(error)
            else:
                self._opened.set_exception(error)
        else:
            self._ended.set_result(None)

    def _next(self) -> Job | None:
        with self._changed:
            self._current = None
            while not self._waiting and not self._is_closed:
                self._changed.wait()
            if self._waiting:
                self._current = heapq.heappop(self._waiting)[2]
            return self._current

    def _do(self, job: Job, desk: Desk) -> None:
        try:
            with desk.at_work(job.require_wanted):
                for line in job.make(desk):
                    job.require_wanted()
                    job.deliver(line)
            self._put_later(job, desk)
        except GivenUp:
            pass
        except Exception as error:
            job.deliver(refusal(error, desk.unit))
        finally:
            desk.later.clear()
            job.deliver(None)

    def _put_later(self, job: Job, desk: Desk) -> None:
        for make in desk.later:
            self.put(Job(Urgency.IDLE, job.page, make, lambda _: None))
