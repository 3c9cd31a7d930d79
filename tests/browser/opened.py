"""A book opened in the browser from its file, with everything watched that it must not do."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, Protocol

from playwright.sync_api import Browser, BrowserContext, Dialog, Error, Page, Route

ColourScheme = Literal["light", "dark"]
Media = Literal["screen", "print"]

INSIDE = ("data:", "blob:", "about:")


@dataclass(frozen=True)
class Opened:
    """An open book: its page, and the complaints so far, each in one line."""

    page: Page
    complaints: list[str]

    def settle(self) -> None:
        """Let what the page still has to say arrive; events come in only during a call."""
        if self.page.is_closed():
            return
        try:
            self.page.wait_for_timeout(50)
            self.page.evaluate("null")
        except Error as gone:
            self.complaints.append(f"the page did not stay open: {gone.message}")


class OpenBook(Protocol):
    """Opens a book as `opened` does, until the end of the test."""

    def __call__(
        self,
        file: Path,
        *,
        fragment: str = "",
        width: int = 1280,
        height: int = 900,
        phone: bool = False,
        colour_scheme: ColourScheme = "light",
        reduced_motion: bool = False,
        media: Media = "screen",
        scripts: bool = True,
        first: str = "",
    ) -> Opened: ...


@contextmanager
def opened(
    browser: Browser,
    file: Path,
    *,
    fragment: str = "",
    width: int = 1280,
    height: int = 900,
    phone: bool = False,
    colour_scheme: ColourScheme = "light",
    reduced_motion: bool = False,
    media: Media = "screen",
    scripts: bool = True,
    first: str = "",
) -> Iterator[Opened]:
    """Open a file in a fresh profile; width and height are in CSS pixels.

    `phone` lays the page out by its viewport line and touches instead of hovering, as a phone does.
    `first` is a script that is run before any of the page's own, to take away what an older browser
    has not; with `scripts` off none runs at all.
    Raises AssertionError at the end if the page wrote a warning or an error to the console, threw,
    crashed, opened a dialog, or asked for anything but its own file. Requests that leave the file
    are stopped.
    """
    context = browser.new_context(
        viewport={"width": width, "height": height},
        is_mobile=phone,
        has_touch=phone,
        color_scheme=colour_scheme,
        reduced_motion="reduce" if reduced_motion else "no-preference",
        java_script_enabled=scripts,
    )
    try:
        address = file.resolve().as_uri()
        complaints = _watched(context, address)
        if first:
            context.add_init_script(first)
        page = context.new_page()
        page.emulate_media(media=media)
        page.goto(address + (f"#{fragment}" if fragment else ""))
        book = Opened(page, complaints)
        yield book
        book.settle()
    finally:
        context.close()
    assert not complaints, f"{file.name}:\n" + "\n".join(complaints)


def _watched(context: BrowserContext, address: str) -> list[str]:
    """Watch all pages of a context; return the list that its complaints are added to."""
    complaints: list[str] = []

    def inside(url: str) -> bool:
        return url.startswith(INSIDE) or url.partition("#")[0] == address

    def note_request(url: str) -> None:
        if not inside(url):
            complaints.append(f"request for {url}")

    def stop(route: Route) -> None:
        if inside(route.request.url):
            route.continue_()
        else:
            route.abort()

    def note_dialog(dialog: Dialog) -> None:
        complaints.append(f"dialog: {dialog.message}")
        dialog.dismiss()

    def watch(page: Page) -> None:
        page.on("websocket", lambda socket: note_request(socket.url))
        page.on("crash", lambda _: complaints.append("the page crashed"))

    context.route("**/*", stop)
    context.on("request", lambda request: note_request(request.url))
    context.on("page", watch)
    context.on("dialog", note_dialog)
    context.on("weberror", lambda thrown: complaints.append(f"page error: {thrown.error}"))
    context.on(
        "console",
        lambda message: (
            complaints.append(f"console {message.type}: {message.text}")
            if message.type in ("error", "warning")
            else None
        ),
    )
    return complaints
