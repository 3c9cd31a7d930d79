"""A photo of a worn garment, made fit to keep: small, and with nothing in it but the picture."""

import io
import os
import stat
import warnings
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageOps

from lineage.garments.errors import BadPhoto

LARGEST_FILE = 20_000_000
"""Bytes; what a telephone takes is a quarter of it."""

MOST_PIXELS = 50_000_000
"""More takes hundreds of megabytes once it is unpacked, from however small a file."""

LONGEST_SIDE = 2_000
"""Pixels of the photo that is kept: a fold of cloth is plain to see, and the wardrobe stays small
enough to be sent."""

SUFFIXES = {"JPEG": "jpg", "PNG": "png", "WEBP": "webp"}

_QUALITY = 85
_SOLID = {"L", "RGB"}
_CLEAR = {"LA", "PA", "RGBA", "La", "RGBa"}


@dataclass(frozen=True)
class Photo:
    """A picture to keep: its bytes, and the ending its file gets."""

    content: bytes
    suffix: str


def read_photo(path: Path) -> Photo:
    """Return the picture in a file, made fit to keep; nothing is written.

    It is turned the way its camera was held, made no larger than needed, and written anew, so that
    no place, time or owner, no comment and no profile comes along. Raises BadPhoto for a file that
    is no plain file, too large, or no JPEG, PNG or WebP picture.
    """
    name = str(path)
    content = _content(name)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what a picture is too large for is said by us
        try:
            return _cleaned(name, content)
        except BadPhoto:
            raise
        except Image.DecompressionBombError:
            raise _too_many_pixels(name) from None
        except Exception:  # a broken picture can trip its reader in any way
            raise BadPhoto(name, "it cannot be read as a picture") from None


def _content(name: str) -> bytes:
    try:
        _require_plain(name, os.lstat(name))
        # The file may be another by now: a link is not followed, a pipe is not waited for.
        handle = os.open(name, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | _NOT_WAITING)
        with open(handle, "rb") as stream:
            _require_plain(name, os.fstat(handle))
            content = stream.read(LARGEST_FILE + 1)
    except OSError as error:
        raise BadPhoto(name, (error.strerror or str(error)).lower()) from None
    except ValueError:
        raise BadPhoto(name, "that is no name of a file") from None
    if len(content) > LARGEST_FILE:
        raise BadPhoto(name, f"it is larger than {LARGEST_FILE // 1_000_000} MB")
    return content


_NOT_WAITING = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)


def _require_plain(name: str, found: os.stat_result) -> None:
    if stat.S_ISLNK(found.st_mode):
        raise BadPhoto(name, "it is a link to another place")
    if stat.S_ISDIR(found.st_mode):
        raise BadPhoto(name, "it is a folder")
    if not stat.S_ISREG(found.st_mode):
        raise BadPhoto(name, "it is not a plain file")
    if found.st_size > LARGEST_FILE:
        raise BadPhoto(name, f"it is larger than {LARGEST_FILE // 1_000_000} MB")


def _cleaned(name: str, content: bytes) -> Photo:
    with Image.open(io.BytesIO(content), formats=tuple(SUFFIXES)) as image:
        kind = str(image.format)
        if image.width * image.height > MOST_PIXELS:
            raise _too_many_pixels(name)
        if kind == "JPEG":  # it can be unpacked at half its size, or less, from the start
            image.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        image.load()
        upright: Image.Image = image
        with suppress(Exception):  # notes of the camera that cannot be read turn nothing
            upright = ImageOps.exif_transpose(image)
        if upright.mode.startswith("I"):  # 16 bits a pixel, which `convert` cuts off at the top
            upright = upright.point(lambda grey: grey * (1 / 256) + 0).convert("L")
        plain = upright.convert(_mode(upright, kind))
    plain.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    # A new picture: whatever came with the old one is not in it, and so cannot be written.
    bare = Image.new(plain.mode, plain.size)
    bare.paste(plain)
    stream = io.BytesIO()
    bare.save(stream, kind, **({} if kind == "PNG" else {"quality": _QUALITY}))
    return Photo(stream.getvalue(), SUFFIXES[kind])


def _mode(image: Image.Image, kind: str) -> str:
    if kind != "JPEG" and (image.mode in _CLEAR or "transparency" in image.info):
        return "RGBA"
    return image.mode if image.mode in _SOLID and kind != "WEBP" else "RGB"


def _too_many_pixels(name: str) -> BadPhoto:
    return BadPhoto(name, f"it has more than {MOST_PIXELS // 1_000_000} megapixels")
