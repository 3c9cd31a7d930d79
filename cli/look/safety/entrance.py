"""How a browser that the program opens comes to the token, and nobody who looks on does.

What a program is started with any user of the machine can read, and a browser keeps what it was
sent to. So a browser is given a file that its owner alone can read, which leads to a ticket; the
ticket opens the page once, and is worth nothing afterwards.
"""

import hmac
import os
import secrets
import shutil
import tempfile
from contextlib import suppress
from pathlib import Path

from trueup.cli.look.safety.address import LiveAddress

_TICKET_BYTES = 32
_OWNER_ALONE = 0o600
_NAME = "open-trueup.html"
_LEADS = """<!doctype html>
<html lang=en>
<meta charset=utf-8>
<meta name=referrer content=no-referrer>
<meta http-equiv=refresh content="0; url={address}">
<title>trueup</title>
<p><a href="{address}">Open the live page</a>
</html>
"""


class Entrance:
    """The one way in for a browser that is opened here."""

    def __init__(self, here: LiveAddress) -> None:
        self.ticket = secrets.token_urlsafe(_TICKET_BYTES)
        self._here = here
        self._is_open = True
        self._folder: str | None = None

    def is_for(self, given: bytes) -> bool:
        """Return whether a ticket opens the page, as it does until it was spent."""
        return self._is_open and hmac.compare_digest(given, self.ticket.encode())

    def spend(self) -> None:
        """Let nobody in any more, and take the file away."""
        self._is_open = False
        if self._folder is not None:
            shutil.rmtree(self._folder, ignore_errors=True)
            self._folder = None

    def written(self) -> str | None:
        """Write the file that leads in, and return its address; None where none can be written."""
        with suppress(OSError):
            # No other user may enter this folder.
            self._folder = tempfile.mkdtemp(prefix="trueup-")
            file = Path(self._folder, _NAME)
            opened = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, _OWNER_ALONE)
            with os.fdopen(opened, "w", encoding="ascii") as writing:
                writing.write(_LEADS.format(address=f"{self._here.origin}/{self.ticket}"))
            return file.as_uri()
        return None
