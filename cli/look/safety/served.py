"""How whatever is served here is served: nothing logged, nothing told of itself, all bounded."""

import asyncio
from typing import Any

import uvicorn

_WAITING = 32  # connections the system holds; so many more files may be open for a moment
_LARGEST_HEAD = 16_384  # bytes of the head of a request
_QUIET = 5  # seconds that a connection may stay after an answer
_TO_FINISH = 2  # seconds that answers under way have when it is time to stop


def config_of(application: Any, protocol: type[asyncio.Protocol]) -> uvicorn.Config:
    """Return how an application is served, every connection spoken on by the protocol."""
    return uvicorn.Config(
        application,
        http=protocol,
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
