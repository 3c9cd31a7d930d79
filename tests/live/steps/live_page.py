"""A live page in the browser, watched: no console line, and nothing leaves the machine."""

import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Browser, Page

from tests.browser.accessibility import serious_findings
from tests.cli.conftest import Trueup
from tests.live.running import Running

PHONE = {"viewport": {"width": 360, "height": 740}, "is_mobile": True, "has_touch": True}


@dataclass(frozen=True)
class LivePage:
    """An open live page, and what was amiss so far."""

    page: Page
    amiss: list[str]

    def require_accessible(self) -> None:
        assert not serious_findings(self.page)

    def require_no_sideways_scrolling(self) -> None:
        widths = "[document.documentElement.scrollWidth, innerWidth]"
        wide, room = self.page.evaluate(widths)
        assert wide <= room, f"{wide} px in {room} px"

    @property
    def said(self) -> str:
        """What is said above the page, once something is."""
        self.page.wait_for_selector(".meanwhile p")
        return self.page.inner_text(".meanwhile")


@contextmanager
def live_page(browser: Browser, live: Running, address: str, **how: Any) -> Iterator[LivePage]:
    """Open an address of a served wardrobe; raises AssertionError at the end if it did amiss."""
    context = browser.new_context(**how)
    amiss: list[str] = []
    try:
        context.on("weberror", lambda thrown: amiss.append(f"page error: {thrown.error}"))
        context.on("dialog", lambda dialog: (amiss.append(dialog.message), dialog.dismiss()))
        context.on(
            "console",
            lambda line: (
                amiss.append(f"{line.type}: {line.text}")
                if line.type in ("error", "warning")
                else None
            ),
        )
        context.on(
            "request",
            lambda asked: (
                None
                if asked.url.startswith((live.origin, "data:", "blob:"))
                else amiss.append(f"request for {asked.url}")
            ),
        )
        page = context.new_page()
        page.goto(f"{live.address}/{address}")
        page.wait_for_selector("h1")
        yield LivePage(page, amiss)
        page.wait_for_timeout(50)
    finally:
        context.close()
    assert not amiss, "\n".join(amiss)


def last_message(trueup: Trueup) -> str:
    """Return what the last step says of itself, with its trailers."""
    told = subprocess.run(
        ["git", "-C", str(trueup.folder), "log", "-1", "--format=%B"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    return told.stdout


def files(trueup: Trueup) -> dict[str, bytes]:
    """Return every file of a wardrobe."""
    return {name: content for name, content in trueup.contents().items() if name != "HEAD"}


def steps(trueup: Trueup) -> int:
    """Return how many steps a wardrobe has."""
    told = subprocess.run(
        ["git", "-C", str(trueup.folder), "rev-list", "--count", "HEAD"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    return int(told.stdout)
