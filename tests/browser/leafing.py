"""How a test leafs through an open book."""

import re

from playwright.sync_api import Locator, Page


def heading(page: Page, name: str | re.Pattern[str]) -> Locator:
    return page.get_by_role("heading", level=1, name=name)


def addresses(page: Page) -> list[str]:
    """Return the address of every page there is in the book."""
    return page.evaluate(
        "Array.from(document.querySelectorAll('script[data-address]'), e => e.dataset.address)"
    )


def turn_to(page: Page, address: str) -> None:
    """Turn to a page, and wait until it is the one that shows."""
    if page.evaluate("location.hash.slice(2) || 'start'") == address:
        page.wait_for_selector("main h1")
        return
    page.evaluate(
        """address => {
          window.turnedFrom = document.querySelector('main h1');
          location.hash = '/' + address;
        }""",
        address,
    )
    page.wait_for_function(
        """() => {
          const heading = document.querySelector('main h1');
          return heading !== null && heading !== window.turnedFrom
            && document.activeElement === heading;
        }"""
    )


def press_until_focused(page: Page, wanted: Locator, key: str = "Tab", most: int = 200) -> None:
    for _ in range(most):
        page.keyboard.press(key)
        if wanted.evaluate("element => element === document.activeElement"):
            return
    raise AssertionError(f"{wanted} is not reached by {key}")


def on_the_line(path: Locator) -> dict[str, float]:
    """Return a place on a drawn line, in pixels from the corner of its box."""
    return path.evaluate(
        """path => {
          const at = path.getPointAtLength(path.getTotalLength() / 2);
          const on = at.matrixTransform(path.getScreenCTM());
          const touch = path.nextElementSibling.getBoundingClientRect();
          return {x: on.x - touch.x, y: on.y - touch.y};
        }"""
    )
