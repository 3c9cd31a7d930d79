"""What a phone is answered: the form, and whether its note came."""

import asyncio

import msgspec
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response
from starlette.routing import Route

from trueup.cli.look.frame import LiveFrame
from trueup.cli.look.owning.telling import refusal
from trueup.cli.look.phone_door import PhoneDoor, SentNote
from trueup.cli.look.safety.bodies import TooMuch, TooSlow, body_of
from trueup.cli.look.written import Long, Short
from trueup.lineage.files.garment_errors import BadPhoto
from trueup.lineage.files.photos import Photo, photo_of
from trueup.lineage.limits import LARGEST_PHOTO

_LARGEST = LARGEST_PHOTO * 4 // 3 + 64_000  # the photo as base64 (RFC 4648), and the words
_SLOWEST = 90.0  # seconds; it comes over the air
_LAST = {"connection": "close"}
_OVER = "This form is closed: its ten minutes are over, or a note was sent by it already.\n"


class FromPhone(msgspec.Struct, forbid_unknown_fields=True):
    """What a phone sends; the photo is its bytes, none where there is no photo."""

    symptom: Short
    where: Short = ""
    amount: Short = ""
    words: Long = ""
    photo: bytes = b""


def phone_application(form: LiveFrame, door: PhoneDoor) -> Starlette:
    """Return what answers a phone; only what passed the guard may come here."""

    async def show_form(_: Request) -> Response:
        if door.seconds_left == 0:
            return _over()
        return HTMLResponse(form.html)

    async def take(request: Request) -> Response:
        if not door.claim():
            return _over()
        try:
            came = door.take(await _sent(request))
        except (TooMuch, TooSlow, BadPhoto, msgspec.MsgspecError) as error:
            return _no_note(error)
        finally:
            door.give_up()
        return PlainTextResponse("It came.\n") if came else _over()

    return Starlette(
        routes=[Route("/", show_form), Route("/note", take, methods=["POST"])],
    )


def _over() -> Response:
    return PlainTextResponse(_OVER, 403, _LAST)


def _no_note(error: Exception) -> Response:
    match error:
        case TooMuch():
            return PlainTextResponse("That is more than is taken: 20 MB at most.\n", 413, _LAST)
        case TooSlow():
            return PlainTextResponse("That took too long to come.\n", 408, _LAST)
        case BadPhoto():
            return PlainTextResponse(f"{refusal(error, None)['refused']}\n", 422)
    return PlainTextResponse("That is no note.\n", 400)


async def _sent(request: Request) -> SentNote:
    declared = request.headers.get("content-length")
    body = await body_of(request.receive, _LARGEST, declared, _SLOWEST)
    return await asyncio.to_thread(_read, body)


def _read(body: bytes) -> SentNote:
    told = msgspec.json.decode(body, type=FromPhone)
    photo: Photo | None = photo_of("photo", told.photo) if told.photo else None
    return SentNote(told.symptom, told.where, told.amount, told.words, photo)
