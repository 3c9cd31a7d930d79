"""Read a picture by anyone safely: within bounds, the way its camera was held, in plain colours."""

import io
import warnings
from contextlib import suppress

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageOps

from trueup.geometry.said import said
from trueup.lineage.drawings.photographs.errors import CannotMeasure
from trueup.lineage.drawings.photographs.picture import Picture
from trueup.lineage.files.garment_errors import BadPhoto
from trueup.lineage.files.photos import SUFFIXES, require_moderate, too_many_pixels

_COLOURS = {"1", "L", "LA", "P", "RGB", "RGBA", "CMYK"}
_DEEP = {"I", "I;16", "I;16B", "I;16L"}
"""16 bits a pixel, of which the upper eight are looked at."""

_ROWS = 512

_ANOTHER = "give a JPEG, PNG or WebP picture of at most 20 MB and 50 megapixels"


def read_picture(content: bytes, place: str) -> Picture:
    """Return a picture, upright; `place` is what a message calls its file.

    Raises CannotMeasure for what is no JPEG, PNG or WebP picture, is too large, or has other
    colours than red, green and blue can tell.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what a picture is too large for is said by us
        try:
            return Picture(_pixels(content, place))
        except CannotMeasure:
            raise
        except Image.DecompressionBombError:
            raise _refused(too_many_pixels(place)) from None
        except BadPhoto as error:
            raise _refused(error) from None
        except Exception:  # a broken picture can trip its reader in any way
            raise CannotMeasure(place, "it cannot be read as a picture", _ANOTHER) from None


def _refused(error: BadPhoto) -> CannotMeasure:
    return CannotMeasure(error.path, error.reason, _ANOTHER)


def _pixels(content: bytes, place: str) -> NDArray[np.uint8]:
    with Image.open(io.BytesIO(content), formats=tuple(SUFFIXES)) as image:
        require_moderate(place, image)
        image.load()
        with suppress(Exception):  # notes of the camera that cannot be read turn nothing
            ImageOps.exif_transpose(image, in_place=True)
        if image.mode not in _COLOURS | _DEEP:
            reason = said("other-colours", colours=image.mode)
            raise CannotMeasure(place, reason, _ANOTHER)
        # Part by part, so that no second copy of all of it is made.
        pixels = np.empty((image.height, image.width, 3), np.uint8)
        for top in range(0, image.height, _ROWS):
            low = min(top + _ROWS, image.height)
            pixels[top:low] = np.asarray(_plain(image.crop((0, top, image.width, low))))
        return pixels


def _plain(part: Image.Image) -> Image.Image:
    """Return a part of a picture in red, green and blue; what is clear is white."""
    if part.mode in _DEEP:
        return part.point(lambda grey: grey * (1 / 256) + 0).convert("L").convert("RGB")
    if part.mode not in ("LA", "RGBA") and "transparency" not in part.info:
        return part.convert("RGB")
    clear = part.convert("RGBA")
    plain = Image.new("RGB", clear.size, "white")
    plain.paste(clear, mask=clear.getchannel("A"))
    return plain
