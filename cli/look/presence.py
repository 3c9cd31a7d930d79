"""Which pages are open, and when nobody needs the live page any more."""

import re
import time
from collections import OrderedDict
from collections.abc import Callable

_NAME = re.compile(r"[0-9a-f]{16}")
_MOST_PAGES = 256
_TO_COME_BACK = 3.0  # seconds; a page that is loaded again goes and comes


class Presence:
    """The open pages of one server, by the names they give themselves.

    `idle` is after how many seconds without anything asked it is time to stop. With `with_pages` it
    is time, too, once the last page was closed. `now` is a clock, s.
    """

    def __init__(
        self, idle: float, *, with_pages: bool, now: Callable[[], float] = time.monotonic
    ) -> None:
        self._idle, self._with_pages, self._now = idle, with_pages, now
        self._open: OrderedDict[str, None] = OrderedDict()
        self._asked = now()
        self._emptied: float | None = None

    def see(self, page: str, *, is_asking: bool) -> None:
        """Take note that a page is there; `is_asking` where the maker wanted something of it."""
        if _NAME.fullmatch(page):
            self._open[page] = None
            self._open.move_to_end(page)
            if len(self._open) > _MOST_PAGES:
                self._open.popitem(last=False)
            self._emptied = None
        if is_asking:
            self._asked = self._now()

    def leave(self, page: str) -> None:
        """Take note that a page was closed."""
        if page in self._open:
            del self._open[page]
            if not self._open:
                self._emptied = self._now()

    @property
    def is_over(self) -> bool:
        """Return whether it is time to stop."""
        now = self._now()
        if self._with_pages and self._emptied is not None:
            return now - self._emptied > _TO_COME_BACK
        return now - self._asked > self._idle
