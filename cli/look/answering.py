"""What is answered to whom may ask: the frame, and the actions."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import suppress

import msgspec
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import (
    HTMLResponse,
    JSONResponse,
    PlainTextResponse,
    Response,
    StreamingResponse,
)
from starlette.routing import Route

from trueup.cli.look import actions  # noqa: F401  (which registers them)
from trueup.cli.look.acting import ACTIONS, Action
from trueup.cli.look.frame import LiveFrame
from trueup.cli.look.owning.job import Job
from trueup.cli.look.owning.line import Line
from trueup.cli.look.owning.owner import Owner
from trueup.cli.look.presence import Presence
from trueup.cli.look.safety.address import LiveAddress
from trueup.cli.look.safety.bodies import TooMuch, TooSlow, body_of
from trueup.cli.look.safety.guard import ENTER

_LEAVE = "leave"


def application(frame: LiveFrame, owner: Owner, presence: Presence, here: LiveAddress) -> Starlette:
    """Return what answers; only what passed the guard may come here."""

    async def show_frame(_: Request) -> Response:
        return HTMLResponse(frame.html)

    async def enter(_: Request) -> Response:
        return JSONResponse({"token": here.token})

    async def act(request: Request) -> Response:
        name, page = request.path_params["action"], request.headers.get("trueup-page", "")
        if name == _LEAVE:
            presence.leave(page)
            return Response(status_code=204)
        found = ACTIONS.get(name)
        if found is None:
            return PlainTextResponse("There is no such action.\n", 404)
        presence.see(page, is_asking=found.is_asking)
        try:
            told = await _told(request, found)
        except TooMuch:
            return PlainTextResponse("That is more than is taken.\n", 413, _LAST)
        except TooSlow:
            return PlainTextResponse("That took too long to come.\n", 408, _LAST)
        except msgspec.MsgspecError as error:
            return PlainTextResponse(f"That is not how it is asked: {error}.\n", 400)
        lines = _lines(owner, found, told, page)
        return StreamingResponse(lines, media_type="application/x-ndjson")

    return Starlette(
        routes=[
            Route("/", show_frame),
            Route(ENTER, enter, methods=["POST"]),
            Route("/{action}", act, methods=["POST"]),
            Route("/{ticket}", show_frame),
        ],
    )


_LAST = {"connection": "close"}
_END = b""


async def _told(request: Request, found: Action) -> msgspec.Struct:
    declared = request.headers.get("content-length")
    body = await body_of(request.receive, found.largest, declared)
    return msgspec.json.decode(body, type=found.told)


async def _lines(
    owner: Owner, found: Action, told: msgspec.Struct, page: str
) -> AsyncIterator[bytes]:
    """Yield the lines of an answer as they come; whoever goes away has given it up."""
    loop = asyncio.get_running_loop()
    made: asyncio.Queue[bytes] = asyncio.Queue()

    def deliver(line: Line | None) -> None:
        written = _END if line is None else msgspec.json.encode(line) + b"\n"
        # The loop is gone where the server stops before the answer is whole.
        with suppress(RuntimeError):
            loop.call_soon_threadsafe(made.put_nowait, written)

    job = Job(found.urgency, page, lambda desk: found.run(desk, told), deliver)
    owner.put(job)
    try:
        while (line := await made.get()) != _END:
            yield line
    finally:
        job.give_up()
