"""Where the browser is, and what becomes of the tests where there is none."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

NAMES = ("chromium", "chromium-browser", "google-chrome")
ASKED_BY = "TRUEUP_BROWSER"

ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # What no request event tells of, such as a preconnect, finds no host either.
    "--host-resolver-rules=MAP * ~NOTFOUND",
)


@dataclass(frozen=True)
class Absent:
    """No browser is installed: why, in one sentence, and whether that fails the tests."""

    sentence: str
    fails: bool


def chromium(which: Callable[[str], str | None], environment: Mapping[str, str]) -> str | Absent:
    """Return where Chromium is, or that it is absent.

    Without it the tests are skipped, but fail where the environment says TRUEUP_BROWSER=required,
    so that a check of everything cannot pass by having looked at nothing.
    """
    found = next(filter(None, map(which, NAMES)), None)
    if found is not None:
        return found
    return Absent(
        "No Chromium is installed to open the book in; install Debian's package chromium.",
        fails=environment.get(ASKED_BY) == "required",
    )
