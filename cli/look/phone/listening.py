"""Listen to a phone on the local network as long as the door is open."""

import asyncio
import socket
from collections.abc import Iterator
from contextlib import closing, contextmanager

import uvicorn

from trueup.cli.look.phone.answering import phone_application
from trueup.cli.look.phone.form import made_form
from trueup.cli.look.phone.network import local_address
from trueup.cli.look.phone_door import PhoneDoor
from trueup.cli.look.safety.address import LiveAddress
from trueup.cli.look.safety.connections import Connections, protocol_for
from trueup.cli.look.safety.guard import Guard
from trueup.cli.look.safety.served import config_of

_MOST = 8  # connections of a phone; a browser opens six at most (from memory)
_LOOKS = 0.25  # seconds between two looks whether the door is still open
_TO_ANSWER = 1.0  # seconds that the last answer has until nothing is listened to any more


class _BesideServer(uvicorn.Server):
    """A server beside another, which is the one that the keyboard stops."""

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        yield


@contextmanager
def door_open(door: PhoneDoor) -> Iterator[tuple[LiveAddress, socket.socket]]:
    """Take a port on the local network and say where the door is; raises Misused without one."""
    machine = local_address()
    with closing(socket.socket(socket.AF_INET, socket.SOCK_STREAM)) as listening:
        listening.bind((machine, 0))
        here = LiveAddress(listening.getsockname()[1], machine=machine)
        # What follows `#` is never sent: the phone learns whose note it is from the code alone.
        door.address = f"{here.address}/{door.garment}"
        yield here, listening


async def listen(door: PhoneDoor, here: LiveAddress, listening: socket.socket) -> None:
    """Listen until the door is closed."""
    connections, form = Connections(_MOST), made_form()
    guard = Guard(phone_application(form, door), here, form.policy, connections.admit)
    server = _BesideServer(config_of(guard, protocol_for(connections)))
    serving = asyncio.create_task(server.serve(sockets=[listening]))
    try:
        while door.seconds_left > 0 and not serving.done():
            await asyncio.sleep(_LOOKS)
        await asyncio.sleep(_TO_ANSWER)
    finally:
        server.should_exit = True
        await serving
