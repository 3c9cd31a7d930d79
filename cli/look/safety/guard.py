"""Who may ask: only a page that came from here, and bears the token.

A page of another site in the same browser can send a form or a request anywhere, and by a name of
its own that it lets lead to this machine (DNS rebinding) even read the answer. It can not set
`Host`, `Origin` and `Sec-Fetch-Site` as it likes (WHATWG, Fetch; W3C, Fetch Metadata Request
Headers), nor bear a header of ours without asking first, which is never granted.
"""

import hmac
from collections.abc import Awaitable, Callable, Mapping, MutableMapping
from types import MappingProxyType
from typing import Any

from trueup.cli.look.safety.address import LiveAddress
from trueup.cli.look.safety.entrance import Entrance

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
Application = Callable[[MutableMapping[str, Any], Receive, Send], Awaitable[None]]
Admitted = Callable[[tuple[str, int]], None]

TOKEN = b"trueup-token"
ENTER = "/enter"
"""Where a ticket is given for the token."""

_FRAME = "/"
_SITES_OF_FRAME = (b"none", b"same-origin")

# A browser takes it from a place that it trusts, and writes of it to the console elsewhere.
_ISOLATING = b"cross-origin-opener-policy"
_ALWAYS: Mapping[bytes, bytes] = MappingProxyType(
    {
        b"cache-control": b"no-store",
        b"x-content-type-options": b"nosniff",
        b"x-frame-options": b"DENY",
        b"referrer-policy": b"no-referrer",
        b"cross-origin-resource-policy": b"same-origin",
        _ISOLATING: b"same-origin",
    }
)


class Guard:
    """Passes on what may ask, refuses all else, and puts its headers to every answer.

    `admitted` is told from where something came that bore the token. By an `entrance` a browser
    may come in once that bears a ticket instead.
    """

    def __init__(
        self,
        inner: Application,
        place: LiveAddress,
        policy: str,
        admitted: Admitted,
        entrance: Entrance | None = None,
    ) -> None:
        self._inner, self._here, self._admitted = inner, place, admitted
        self._entrance = entrance
        always = [each for each in _ALWAYS.items() if place.is_trusted or each[0] != _ISOLATING]
        self._headers = [*always, (b"content-security-policy", policy.encode())]

    async def __call__(self, scope: MutableMapping[str, Any], receive: Receive, send: Send) -> None:
        """Answer one request."""

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                given = [each for each in message["headers"] if each[0] not in _ALWAYS]
                message["headers"] = [*given, *self._headers]
            await send(message)

        if scope["type"] != "http":
            return
        if not self._may_ask(scope):
            await _refuse(send_with_headers)
            return
        if scope["method"] == "POST":
            self._admitted(scope["client"])
        await self._inner(scope, receive, send_with_headers)

    def _may_ask(self, scope: Mapping[str, Any]) -> bool:
        headers: dict[bytes, list[bytes]] = {}
        for name, value in scope["headers"]:
            headers.setdefault(name.lower(), []).append(value)
        if headers.get(b"host") != [self._here.host.encode()]:
            return False
        if scope["method"] == "GET":
            return (
                not scope["query_string"]
                and b"origin" not in headers
                and self._shows_frame(scope["path"], headers.get(b"sec-fetch-site"))
                and _is_one_of(headers.get(b"sec-fetch-dest"), (b"document",))
            )
        return (
            scope["method"] == "POST"
            and not scope["query_string"]
            and headers.get(b"origin") == [self._here.origin.encode()]
            and _is_one_of(headers.get(b"sec-fetch-site"), (b"same-origin",))
            and headers.get(b"content-type") == [b"application/json"]
            and self._bears_token(headers.get(TOKEN, []), scope["path"])
        )

    def _shows_frame(self, path: str, site: list[bytes] | None) -> bool:
        """Return whether the frame is shown there; whoever bears a ticket comes from a file."""
        if path == _FRAME:
            return _is_one_of(site, _SITES_OF_FRAME)
        return self._entrance is not None and self._entrance.is_for(path[1:].encode())

    def _bears_token(self, given: list[bytes], path: str) -> bool:
        if len(given) != 1:
            return False
        if path == ENTER and self._entrance is not None and self._entrance.is_for(given[0]):
            self._entrance.spend()
            return True
        return hmac.compare_digest(given[0], self._here.token.encode())


def _is_one_of(given: list[bytes] | None, allowed: tuple[bytes, ...]) -> bool:
    """Return whether a header is one of some values, or not sent, as by an old browser."""
    return given is None or (len(given) == 1 and given[0] in allowed)


async def _refuse(send: Send) -> None:
    says = b"Refused: open the address that `trueup look` gave.\n"
    headers = [
        (b"content-type", b"text/plain; charset=utf-8"),
        (b"content-length", str(len(says)).encode()),
        (b"connection", b"close"),
    ]
    await send({"type": "http.response.start", "status": 403, "headers": headers})
    await send({"type": "http.response.body", "body": says})
