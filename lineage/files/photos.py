"""A photo of a worn garment, made fit to keep: small, and with nothing in it but the picture."""

import io
import warnings
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from trueup.lineage.files.garment_errors import BadPhoto
from trueup.lineage.limits import LARGEST_PHOTO, LONGEST_SIDE, LONGEST_TAKEN, MOST_PIXELS
from trueup.lineage.store.files.plain_file import NotPlain, read_plain

if TYPE_CHECKING:  # few commands look at a photo, and none waits for what reads one
    from PIL import Image

SUFFIXES = {"JPEG": "jpg", "PNG": "png", "WEBP": "webp"}

_QUALITY = 85
_SOLID = {"L", "RGB"}
_SHRINKS_AS_IT_IS = {"L", "RGB", "RGBA", "CMYK"}
_CLEAR = {"LA", "PA", "RGBA", "La", "RGBa"}


@dataclass(frozen=True)
class Photo:
    """A picture to keep: its bytes, and the ending its file gets."""

    content: bytes
    suffix: str


def read_photo(path: Path) -> Photo:
    """Return the picture in a file as `photo_of` makes it; nothing is written.

    Raises BadPhoto for a file that is no plain file, too large, or no JPEG, PNG or WebP picture.
    """
    return photo_of(str(path), _content(str(path)))


def photo_of(name: str, content: bytes) -> Photo:
    """Return a picture made fit to keep; `name` is what it is called where it is refused.

    It is turned the way its camera was held, made no larger than needed, and written anew, so that
    no place, time or owner, no comment and no profile comes along. Raises BadPhoto for what is too
    large, or no JPEG, PNG or WebP picture.
    """
    from PIL import Image  # noqa: PLC0415

    if len(content) > LARGEST_PHOTO:
        raise BadPhoto(name, f"it is larger than {LARGEST_PHOTO // 1_000_000} MB")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what a picture is too large for is said by us
        try:
            return _cleaned(name, content)
        except BadPhoto:
            raise
        except Image.DecompressionBombError:
            raise too_many_pixels(name) from None
        except Exception:  # a broken picture can trip its reader in any way
            raise BadPhoto(name, "it cannot be read as a picture") from None


def _content(name: str) -> bytes:
    try:
        return read_plain(Path(name), LARGEST_PHOTO, follow=False)
    except NotPlain as reason:
        raise BadPhoto(name, str(reason)) from None


def _cleaned(name: str, content: bytes) -> Photo:
    from PIL import Image, ImageOps  # noqa: PLC0415

    with Image.open(io.BytesIO(content), formats=tuple(SUFFIXES)) as image:
        kind = str(image.format)
        require_moderate(name, image)
        if kind == "JPEG":  # it can be unpacked at half its size, or less, from the start
            image.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        image.load()
        if image.mode in _SHRINKS_AS_IT_IS:  # before it is copied
            image.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
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


def _mode(image: "Image.Image", kind: str) -> str:
    if kind != "JPEG" and (image.mode in _CLEAR or "transparency" in image.info):
        return "RGBA"
    return image.mode if image.mode in _SOLID and kind != "WEBP" else "RGB"


def require_moderate(name: str, image: "Image.Image") -> None:
    """Refuse a picture that would fill the memory, before it is unpacked; raises BadPhoto."""
    if image.width * image.height > MOST_PIXELS:
        raise too_many_pixels(name)
    if max(image.size) > LONGEST_TAKEN:
        raise BadPhoto(name, f"it is longer than {LONGEST_TAKEN:,} pixels")


def too_many_pixels(name: str) -> BadPhoto:
    """Return the error for a picture of more pixels than are ever unpacked."""
    return BadPhoto(name, f"it has more than {MOST_PIXELS // 1_000_000} megapixels")
