"""Where the live page is, and the secret by which it is asked."""

import secrets
from dataclasses import dataclass, field

LOOPBACK = "127.0.0.1"
_TOKEN_BYTES = 32


@dataclass(frozen=True)
class LiveAddress:
    """A port of this machine, and the token without which nothing is answered there."""

    port: int
    token: str = field(default_factory=lambda: secrets.token_urlsafe(_TOKEN_BYTES), repr=False)

    @property
    def host(self) -> str:
        """Return what a browser says it asks, in `Host`."""
        return f"{LOOPBACK}:{self.port}"

    @property
    def origin(self) -> str:
        """Return what a browser says its page came from, in `Origin`."""
        return f"http://{self.host}"

    @property
    def address(self) -> str:
        """Return the address to open; what follows `#` is never sent, and so in no log."""
        return f"{self.origin}/#token={self.token}"
