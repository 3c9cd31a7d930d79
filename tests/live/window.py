"""A live page opened in a browser, with everything watched that it must not do."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.live.running import Running

WAITS = 60_000
"""Milliseconds for what is worked out: nothing is timed here, and the machine may be busy."""


@dataclass(frozen=True)
class Window:
    """An open window on a live page, and what it did that it must not."""

    page: Page
    context: BrowserContext
    complaints: list[str] = field(default_factory=list)

    def turn_to(self, address: str) -> None:
        """Turn to a page, and wait until it is the one that shows."""
        if self.page.evaluate("location.hash.slice(2)") == address:
            return
        self.page.evaluate(
            """address => {
              const heading = document.querySelector('main h1');
              if (heading) heading.dataset.turnedFrom = '';
              location.hash = '/' + address;
            }""",
            address,
        )
        self.page.wait_for_selector("main h1:not([data-turned-from])", timeout=WAITS)

    def pick(self, node: str, line: str, kind: str) -> None:
        """Have a change tried, and wait until all rows are told."""
        self.turn_to(f"try/{node}/{line}")
        expect(self.page.get_by_label("Change")).to_be_enabled(timeout=WAITS)
        self.page.wait_for_selector(f"select[name=kind] option[value={kind}]", state="attached")
        self.page.get_by_label("Change").select_option(kind)
        self.wait_until_told()

    def wait_until_told(self) -> None:
        self.page.wait_for_selector("button.record[aria-disabled=false]", timeout=WAITS)


@contextmanager
def window(browser: Browser, live: Running, **how: Any) -> Iterator[Window]:
    """Open the live page in a fresh profile.

    Raises AssertionError at the end where it wrote an error or a warning to the console, threw,
    opened a dialog, or asked for anything but its own server.
    """
    context = browser.new_context(**how)
    context.set_default_timeout(WAITS)
    complaints = _watched(context, live.origin)
    try:
        page = context.new_page()
        page.goto(live.address)
        page.wait_for_selector("main h1")
        yield Window(page, context, complaints)
        if not page.is_closed():
            page.wait_for_timeout(50)
    finally:
        context.close()
    assert complaints == []


def _watched(context: BrowserContext, origin: str) -> list[str]:
    complaints: list[str] = []

    def note_request(url: str) -> None:
        if not url.startswith((f"{origin}/", "data:", "about:")):
            complaints.append(f"request for {url}")

    context.on("request", lambda request: note_request(request.url))
    context.on(
        "page", lambda page: page.on("websocket", lambda s: complaints.append(f"socket {s.url}"))
    )
    context.on("dialog", lambda dialog: complaints.append(f"dialog: {dialog.message}"))
    context.on("weberror", lambda thrown: complaints.append(f"page error: {thrown.error}"))
    context.on(
        "console",
        lambda said: (
            complaints.append(f"console {said.type}: {said.text}")
            if said.type in ("error", "warning")
            else None
        ),
    )
    return complaints


def hold_back_following(page: Page) -> None:
    """Hold back what a page asks by itself, as in the moment before it is answered."""
    page.route("**/now", lambda _: None)
    with page.expect_request("**/now", timeout=WAITS):
        pass
