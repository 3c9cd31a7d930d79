"""Where this machine is found in the local network."""

import ipaddress
import socket

from trueup.cli.failures import Misused

# An address kept for examples (RFC 5737): nothing is sent to it, only the way there is asked for.
_ANYWHERE = ("192.0.2.1", 9)
_NONE = "This machine is in no local network, so no phone can reach it; join one and try again."
_PUBLIC = (
    "This machine is reached from the whole internet, and a form for a phone is opened in a local "
    "network only; join one and try again."
)


def local_address() -> str:
    """Return this machine's address in the local network; raises Misused where it is in none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(_ANYWHERE)
        except OSError:
            raise Misused(_NONE) from None
        found = ipaddress.ip_address(asked.getsockname()[0])
    if found.is_loopback or found.is_unspecified:
        raise Misused(_NONE)
    if not found.is_private:
        raise Misused(_PUBLIC)
    return str(found)
