"""Serve the live page until it is no longer needed."""

import asyncio
import socket
import webbrowser
from collections.abc import Callable
from contextlib import ExitStack, closing, suppress
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from trueup.cli.look.answering import application
from trueup.cli.look.frame import made_frame
from trueup.cli.look.owning.desk import desk_of
from trueup.cli.look.owning.owner import Owner
from trueup.cli.look.phone.listening import door_open, listen
from trueup.cli.look.phone_door import PhoneDoor
from trueup.cli.look.presence import Presence
from trueup.cli.look.safety.address import LOOPBACK, LiveAddress
from trueup.cli.look.safety.connections import Connections, protocol_for
from trueup.cli.look.safety.entrance import Entrance
from trueup.cli.look.safety.guard import Guard
from trueup.cli.look.safety.served import config_of

_LOOKS = 0.5  # seconds between two looks whether it is time to stop


@dataclass(frozen=True)
class Serving:
    """How the live page is to be served.

    `most` versions of each node are drawn; it stops after `idle` seconds without anything asked.
    With `browser` it is opened in one, and stops when its last page is closed. By `phone` a note
    may come from the local network.
    """

    folder: Path
    most: int
    idle: float
    browser: bool
    phone: PhoneDoor | None = None


def serve(how: Serving, say: Callable[[str], None]) -> None:
    """Serve a wardrobe's live page until it is not needed any more; `say` tells where it is.

    Raises NotAWardrobe, GitMissing, Damaged before anything is served; with a phone NoSuchGarment,
    and Misused without a local network.
    """
    owner = Owner(lambda: desk_of(how.folder, how.most, how.phone))
    owner.start()
    try:
        with closing(_listening()) as listening, ExitStack() as also:
            phone = also.enter_context(door_open(how.phone)) if how.phone else None
            here = LiveAddress(listening.getsockname()[1])
            asyncio.run(_serve(how, here, listening, owner, say, phone))
    finally:
        owner.close()


class _Server(uvicorn.Server):
    """A server that leaves no way in behind, also where a signal ends it."""

    def __init__(self, config: uvicorn.Config, entrance: Entrance | None) -> None:
        super().__init__(config)
        self._entrance = entrance

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        if self._entrance is not None:
            self._entrance.spend()
        await super().shutdown(sockets)


def _listening() -> socket.socket:
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    found.bind((LOOPBACK, 0))
    return found


async def _serve(
    how: Serving,
    here: LiveAddress,
    listening: socket.socket,
    owner: Owner,
    say: Callable[[str], None],
    phone: tuple[LiveAddress, socket.socket] | None,
) -> None:
    connections, frame = Connections(), made_frame()
    presence = Presence(how.idle, with_pages=how.browser)
    inner = application(frame, owner, presence, here)
    entrance = Entrance(here) if how.browser else None
    guard = Guard(inner, here, frame.policy, connections.admit, entrance)
    server = _Server(config_of(guard, protocol_for(connections)), entrance)

    async def oversee() -> None:
        while not server.started:
            await asyncio.sleep(0.01)
        say(here.address)
        if entrance is not None and (leads_in := entrance.written()) is not None:
            # Some browsers are waited for until they are open.
            await asyncio.to_thread(webbrowser.open, leads_in)
        while not presence.is_over:
            await asyncio.sleep(_LOOKS)
        server.should_exit = True

    beside = [asyncio.create_task(oversee())]
    if how.phone and phone:
        beside.append(asyncio.create_task(listen(how.phone, *phone)))
    try:
        await server.serve(sockets=[listening])
    finally:
        for each in beside:
            each.cancel()
            with suppress(asyncio.CancelledError):
                await each
