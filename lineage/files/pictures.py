"""Whether a file among the photos of a wardrobe is a picture that can be looked at."""

import io
import warnings

from trueup.lineage.files.garment_errors import BadPhoto
from trueup.lineage.files.photos import SUFFIXES, require_moderate, too_many_pixels
from trueup.lineage.limits import LARGEST_PHOTO, LONGEST_SIDE

_ENDINGS = (".jpg", ".jpeg", ".png", ".webp")


def is_picture_name(path: str) -> bool:
    """Return whether a file of the wardrobe is a picture by its name."""
    return path.startswith("photos/") and path.lower().endswith(_ENDINGS)


def require_picture(path: str, content: bytes) -> None:
    """Refuse what is no picture to its last line, or larger than a photo may be; raises BadPhoto.

    Nothing is made of it: a picture the maker put there stays as it is.
    """
    from PIL import Image  # noqa: PLC0415

    if len(content) > LARGEST_PHOTO:
        raise BadPhoto(path, f"it is larger than {LARGEST_PHOTO // 1_000_000} MB")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what a picture is too large for is said by us
        try:
            with Image.open(io.BytesIO(content), formats=tuple(SUFFIXES)) as image:
                require_moderate(path, image)
                if image.format == "JPEG":  # unpacked small, and read to its end all the same
                    image.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
                image.load()
        except BadPhoto:
            raise
        except Image.DecompressionBombError:
            raise too_many_pixels(path) from None
        except Exception:  # a broken picture can trip its reader in any way
            raise BadPhoto(path, "it cannot be read as a picture") from None
