"""Serve the live page until it is no longer needed."""

import asyncio
import socket
import webbrowser
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from trueup.cli.look.answering import application
from trueup.cli.look.frame import made_frame
from trueup.cli.look.owning.desk import desk_of
from trueup.cli.look.owning.owner import Owner
from trueup.cli.look.presence import Presence
from trueup.cli.look.safety.address import LOOPBACK, LiveAddress
from trueup.cli.look.safety.connections import Connections, protocol_for
from trueup.cli.look.safety.guard import Guard

_WAITING = 32  # connections the system holds; so many more files may be open for a moment
_LOOKS = 0.5  # seconds between two looks whether it is time to stop
_LARGEST_HEAD = 16_384  # bytes of the head of a request
_QUIET = 5  # seconds that a connection may stay after an answer
_TO_FINISH = 2  # seconds that answers under way have when it is time to stop


@dataclass(frozen=True)
class Serving:
    """How the live page is to be served.

    `most` versions of each node are drawn; it stops after `idle` seconds without anything asked.
    With `browser` it is opened in one, and stops when its last page is closed.
    """

    folder: Path
    most: int
    idle: float
    browser: bool


def serve(how: Serving, say: Callable[[str], None]) -> None:
    """Serve a wardrobe's live page until it is not needed any more; `say` tells where it is.

    Raises NotAWardrobe, GitMissing, Damaged before anything is served.
    """
    owner = Owner(lambda: desk_of(how.folder, how.most))
    owner.start()
    try:
        with closing(_listening()) as listening:
            here = LiveAddress(listening.getsockname()[1])
            asyncio.run(_serve(how, here, listening, owner, say))
    finally:
        owner.close()


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
) -> None:
    connections, frame = Connections(), made_frame()
    presence = Presence(how.idle, with_pages=how.browser)
    inner = application(frame, owner, presence)
    server = uvicorn.Server(
        uvicorn.Config(
            Guard(inner, here, frame.policy, connections.admit),
            http=protocol_for(connections),
            ws="none",
            lifespan="off",
            log_config=None,
            log_level="critical",
            access_log=False,
            server_header=False,
            proxy_headers=False,
            backlog=_WAITING,
            h11_max_incomplete_event_size=_LARGEST_HEAD,
            timeout_keep_alive=_QUIET,
            timeout_graceful_shutdown=_TO_FINISH,
        )
    )

    async def oversee() -> None:
        while not server.started:
            await asyncio.sleep(0.01)
        say(here.address)
        if how.browser:
            # Some browsers are waited for until they are open.
            await asyncio.to_thread(webbrowser.open, here.address)
        while not presence.is_over:
            await asyncio.sleep(_LOOKS)
        server.should_exit = True

    overseeing = asyncio.create_task(oversee())
    try:
        await server.serve(sockets=[listening])
    finally:
        overseeing.cancel()
