"""Read what is sent in bounded memory and time."""

import asyncio

from trueup.cli.look.safety.guard import Receive

SLOWEST = 10.0  # seconds; all that is sent comes from this very machine


class TooMuch(Exception):
    """More was sent than is taken."""


class TooSlow(Exception):
    """What is sent does not come to an end, or whoever sends it went away."""


async def body_of(receive: Receive, largest: int, declared: str | None) -> bytes:
    """Return a body of so many bytes at most; raises TooMuch, TooSlow.

    One that is `declared` to be larger is not read at all.
    """
    if declared is not None and (not declared.isascii() or not declared.isdecimal()):
        raise TooMuch
    if declared is not None and int(declared[:12]) > largest:
        raise TooMuch
    try:
        async with asyncio.timeout(SLOWEST):
            return await _read(receive, largest)
    except TimeoutError:
        raise TooSlow from None


async def _read(receive: Receive, largest: int) -> bytes:
    read = bytearray()
    while True:
        message = await receive()
        if message["type"] != "http.request":
            raise TooSlow
        read += message.get("body", b"")
        if len(read) > largest:
            raise TooMuch
        if not message.get("more_body", False):
            return bytes(read)
