"""Whether a file is a picture, by its name or by how it begins, before anything is read of it."""

from pathlib import PurePath

_ENDINGS = {".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".tif", ".tiff", ".bmp", ".gif"}
_BEGINNINGS = (b"\xff\xd8\xff", b"\x89PNG\r\n", b"II*\x00", b"MM\x00*", b"GIF8", b"BM")


def is_picture_by_name(source: str) -> bool:
    """Return whether a file is called as pictures are; not all of those can be read."""
    return PurePath(source).suffix.lower() in _ENDINGS


def is_picture(content: bytes, source: str) -> bool:
    """Return whether a file is meant to be a picture."""
    if is_picture_by_name(source) or content.startswith(_BEGINNINGS):
        return True
    return content[:4] == b"RIFF" and content[8:12] == b"WEBP"
