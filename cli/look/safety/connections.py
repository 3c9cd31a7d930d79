"""How many may be connected at a time, and for how long without bearing the token.

However many connect, one that bears the token finds room: of the others the eldest goes.
"""

import asyncio
from collections import OrderedDict
from typing import Any

from uvicorn.protocols.http.h11_impl import H11Protocol

MOST = 64
LONGEST_SILENCE = 15.0  # seconds until one that has not borne the token has to go


class Connections:
    """Those that are connected, by where they come from; of strangers only so many."""

    def __init__(self, most: int = MOST, longest: float = LONGEST_SILENCE) -> None:
        self._most, self._longest = most, longest
        self._strangers: OrderedDict[tuple[str, int], asyncio.Transport] = OrderedDict()

    def come(self, client: tuple[str, int], transport: asyncio.Transport) -> None:
        """Take note of one that is connected; the eldest stranger goes where it is one too many."""
        self._strangers[client] = transport
        if len(self._strangers) > self._most:
            self._strangers.popitem(last=False)[1].abort()
        asyncio.get_running_loop().call_later(self._longest, self._send_away, client, transport)

    def admit(self, client: tuple[str, int]) -> None:
        """Take note that one bore the token: it may stay."""
        self._strangers.pop(client, None)

    def go(self, client: tuple[str, int]) -> None:
        """Take note that one is gone."""
        self._strangers.pop(client, None)

    def _send_away(self, client: tuple[str, int], transport: asyncio.Transport) -> None:
        # The same port may be another's by now.
        if self._strangers.get(client) is transport:
            self._strangers.pop(client).abort()


def protocol_for(connections: Connections) -> type[asyncio.Protocol]:
    """Return how a connection is spoken on: HTTP, with every connection taken note of."""

    class CountedProtocol(H11Protocol):
        def connection_made(self, transport: Any) -> None:
            super().connection_made(transport)
            if self.client is None:
                transport.abort()
                return
            connections.come(self.client, transport)

        def connection_lost(self, exc: Exception | None) -> None:
            if self.client is not None:
                connections.go(self.client)
            super().connection_lost(exc)

    return CountedProtocol
