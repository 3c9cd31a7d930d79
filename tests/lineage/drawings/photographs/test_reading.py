"""A picture is read as it was kept, whatever its colours are, or refused in one sentence."""

import io
from typing import Any

import numpy as np
import pytest
from PIL import Image

from tests.refusals import refusing
from trueup.lineage.drawings.photographs.errors import CannotMeasure
from trueup.lineage.drawings.photographs.reading import read_picture

WIDE, HIGH = 60, 40
AFTER = "give a JPEG, PNG or WebP picture of at most 20 MB and 50 megapixels"


def coloured() -> Any:
    y, x = np.mgrid[0:HIGH, 0:WIDE]
    return np.stack([4 * x, 6 * y, 255 - 4 * x], axis=2).astype(np.uint8)


def kept(image: Image.Image, kind: str = "PNG", **options: Any) -> bytes:
    stream = io.BytesIO()
    image.save(stream, kind, **options)
    return stream.getvalue()


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA"])
def test_all_ways_to_keep_colours_are_read(mode: str) -> None:
    image = Image.fromarray(coloured()).convert(mode)
    found = read_picture(kept(image), "photo.png").pixels
    assert found.dtype == np.uint8
    assert np.array_equal(found, np.asarray(image.convert("RGB")))


def test_what_is_clear_is_white() -> None:
    image = Image.new("RGBA", (WIDE, HIGH), (10, 20, 30, 0))
    assert (read_picture(kept(image), "photo.png").pixels == 255).all()


def test_sixteen_bits_are_read_by_their_upper_eight() -> None:
    deep = (np.arange(WIDE, dtype=np.uint16) * 1000)[None, :].repeat(HIGH, axis=0)
    found = read_picture(kept(Image.fromarray(deep)), "photo.png").pixels
    assert np.abs(found[..., 0].astype(int) - deep // 256).max() <= 1


def test_inks_are_read_as_colours() -> None:
    image = Image.fromarray(coloured()).convert("CMYK")
    found = read_picture(kept(image, "JPEG", quality=95), "photo.jpg").pixels
    assert np.abs(found.astype(int) - coloured()).mean() < 12


@pytest.mark.parametrize(
    ("orientation", "back"),
    [(1, 0), (3, 2), (6, 1), (8, 3)],
)
def test_a_picture_is_turned_as_its_camera_was_held(orientation: int, back: int) -> None:
    exif = Image.Exif()
    exif[0x0112] = orientation
    lying = Image.fromarray(np.ascontiguousarray(np.rot90(coloured(), back)))
    found = read_picture(kept(lying, exif=exif), "photo.png").pixels
    assert np.array_equal(found, coloured())


@pytest.mark.parametrize(
    "content",
    [b"", b"no picture", kept(Image.fromarray(coloured()), "JPEG")[:300], b"\xff\xd8\xff" * 50],
)
def test_what_is_no_picture_is_refused(content: bytes) -> None:
    with refusing(CannotMeasure, match=f"photo.jpg .* cannot be read as a picture; {AFTER}"):
        read_picture(content, "photo.jpg")


@pytest.mark.parametrize("size", [(20_000, 20_000), (8_000, 6_500), (40_000, 10)])
def test_a_bomb_is_not_unpacked(size: tuple[int, int]) -> None:
    content = kept(Image.new("1", size), compress_level=1)
    assert len(content) < 1_000_000
    with refusing(CannotMeasure, match=rf"more than 50 megapixels|longer than .*; {AFTER}"):
        read_picture(content, "photo.png")


def test_other_kinds_of_file_are_refused() -> None:
    with refusing(CannotMeasure, match=f"cannot be read as a picture; {AFTER}"):
        read_picture(kept(Image.fromarray(coloured()), "TIFF"), "scan.tiff")
