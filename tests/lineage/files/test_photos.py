import io
import os
import struct
import zlib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, PngImagePlugin

from tests import bounded
from trueup.lineage.errors import printable
from trueup.lineage.files.garment_errors import BadPhoto
from trueup.lineage.files.photos import Photo, read_photo
from trueup.lineage.limits import LARGEST_PHOTO, LONGEST_SIDE, LONGEST_TAKEN
from trueup.lineage.store.files import plain_file

SECRET = b"48.2082N 16.3738E Ada"
KINDS = {"JPEG": "jpg", "PNG": "png", "WEBP": "webp"}


def picture(kind: str, size: tuple[int, int] = (60, 40), mode: str = "RGB", **more: Any) -> bytes:
    """Return a picture whose left half is red and whose right half is blue."""
    image = Image.new("RGB", size, "red")
    image.paste("blue", (size[0] // 2, 0, *size))
    stream = io.BytesIO()
    image.convert(mode).save(stream, kind, **more)
    return stream.getvalue()


def tagged(kind: str, orientation: int = 1) -> bytes:
    """Return a picture with all that a camera, a telephone or a program writes into one."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010E] = exif[0x013B] = SECRET.decode()
    place = exif.get_ifd(0x8825)
    place[1], place[2], place[29] = "N", (48.0, 12.0, 29.0), SECRET.decode()
    more: dict[str, Any] = {"exif": exif.tobytes(), "icc_profile": SECRET * 9}
    xmp = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><a>' + SECRET + b"</a></x:xmpmeta>"
    if kind == "PNG":
        more["pnginfo"] = notes = PngImagePlugin.PngInfo()
        notes.add_text("Comment", SECRET.decode())
        notes.add_itxt("XML:com.adobe.xmp", xmp.decode())
    else:
        more["xmp"] = xmp
    if kind == "JPEG":
        more["comment"] = SECRET
    found = picture(kind, **more)
    if kind == "JPEG":  # and what only some cameras and programs write
        block = b"Photoshop 3.0\x00" + SECRET
        found = found[:2] + b"\xff\xed" + struct.pack(">H", len(block) + 2) + block + found[2:]
        found += SECRET
    return found


def kept(tmp_path: Path, content: bytes) -> Photo:
    file = tmp_path / "photo"
    file.write_bytes(content)
    return read_photo(file)


def refused(path: Path) -> str:
    with pytest.raises(BadPhoto) as caught:
        read_photo(path)
    sentence = str(caught.value)
    assert printable(path) in sentence
    assert "\n" not in sentence
    return sentence


@pytest.mark.parametrize("kind", KINDS)
def test_a_photo_is_kept_as_the_kind_it_was(tmp_path: Path, kind: str):
    photo = kept(tmp_path, picture(kind))
    assert photo.suffix == KINDS[kind]
    with Image.open(io.BytesIO(photo.content)) as image:
        assert image.format == kind
        assert image.size == (60, 40)
        red, _, blue = image.convert("RGB").getpixel((5, 20))
        assert red > 200 > blue


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_but_the_picture_is_kept(tmp_path: Path, kind: str):
    content = tagged(kind)
    assert SECRET in content
    photo = kept(tmp_path, content)
    assert SECRET not in photo.content
    for part in (b"Exif", b"EXIF", b"eXIf", b"xmp", b"XMP", b"ICC", b"iCC", b"tEXt", b"iTXt"):
        assert part not in photo.content, part
    with Image.open(io.BytesIO(photo.content)) as image:
        image.load()
        assert not image.getexif()
        said = {"exif", "xmp", "comment", "icc_profile", "photoshop", "dpi", "Comment"}
        assert not said & image.info.keys()
        assert not getattr(image, "text", {})


@pytest.mark.parametrize("kind", ["JPEG", "WEBP", "PNG"])
def test_a_photo_is_turned_the_way_the_camera_was_held(tmp_path: Path, kind: str):
    photo = kept(tmp_path, tagged(kind, orientation=6))
    with Image.open(io.BytesIO(photo.content)) as image:
        assert image.size == (40, 60)
        assert image.convert("RGB").getpixel((20, 5))[0] > 200
        assert image.convert("RGB").getpixel((20, 55))[2] > 200


@pytest.mark.parametrize(
    ("size", "becomes"), [((3000, 1500), (2000, 1000)), ((900, 4000), (450, 2000))]
)
def test_a_large_photo_is_made_smaller(
    tmp_path: Path, size: tuple[int, int], becomes: tuple[int, int]
):
    with Image.open(io.BytesIO(kept(tmp_path, picture("JPEG", size)).content)) as image:
        assert image.size == becomes
        assert max(image.size) == LONGEST_SIDE


@pytest.mark.parametrize(
    ("kind", "mode"),
    [("PNG", m) for m in ("1", "L", "LA", "P", "RGB", "RGBA")]
    + [("JPEG", m) for m in ("L", "RGB", "CMYK")]
    + [("WEBP", "RGBA")],
)
def test_pictures_of_every_make_are_kept(tmp_path: Path, kind: str, mode: str):
    photo = kept(tmp_path, picture(kind, mode=mode))
    with Image.open(io.BytesIO(photo.content)) as image:
        image.load()
        assert image.mode in ("L", "RGB", "RGBA")


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_what_is_clear_in_a_picture_stays_clear(tmp_path: Path, kind: str):
    stream = io.BytesIO()
    Image.new("RGBA", (60, 40), (255, 0, 0, 100)).save(stream, kind)
    with Image.open(io.BytesIO(kept(tmp_path, stream.getvalue()).content)) as image:
        assert image.convert("RGBA").getpixel((9, 9))[3] == pytest.approx(100, abs=2)


def test_grey_of_16_bits_is_not_blown_out(tmp_path: Path):
    stream = io.BytesIO()
    Image.new("I;16", (60, 40), 40_000).save(stream, "PNG")
    with Image.open(io.BytesIO(kept(tmp_path, stream.getvalue()).content)) as image:
        assert image.getpixel((9, 9)) == pytest.approx(156, abs=1)


def test_a_broken_note_of_the_camera_does_not_spoil_the_photo(tmp_path: Path):
    broken = picture("JPEG", exif=b"Exif\x00\x00MM\x00\x2a\xff\xff\xff\xff" + b"\xff" * 40)
    assert kept(tmp_path, broken).suffix == "jpg"


# --- what is no photo -------------------------------------------------------------------------


def test_what_is_not_there_or_no_plain_file_is_refused(tmp_path: Path):
    assert "no such file" in refused(tmp_path / "vanished.jpg")
    assert "folder" in refused(tmp_path)
    real = tmp_path / "real.jpg"
    real.write_bytes(picture("JPEG"))
    link = tmp_path / "link.jpg"
    link.symlink_to(real)
    assert "link" in refused(link)
    os.mkfifo(tmp_path / "pipe.jpg")
    assert "plain file" in refused(tmp_path / "pipe.jpg")
    assert "name" in refused(Path("a\0b"))
    assert "photo" in refused(Path("/dev/zero"))
    assert "too long" in refused(tmp_path / ("x" * 300))


def test_a_file_of_200_mb_is_refused_unread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    file = tmp_path / "huge.jpg"
    with file.open("wb") as stream:
        stream.truncate(200_000_000)

    def opened(*_: Any) -> int:
        raise AssertionError("it was opened")

    monkeypatch.setattr(plain_file.os, "open", opened)
    assert "larger than 20 MB" in refused(file)


def test_a_file_that_grows_while_it_is_read_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    file = tmp_path / "growing.jpg"
    file.write_bytes(picture("JPEG") + bytes(LARGEST_PHOTO))
    monkeypatch.setattr(plain_file, "_require_plain", lambda *_: None)
    assert "larger than 20 MB" in refused(file)


def test_more_pixels_than_any_memory_holds_are_refused(tmp_path: Path):
    file = tmp_path / "bomb.png"
    for side in (8_000, 60_000, 2_000_000_000):

        def chunk(name: bytes, content: bytes) -> bytes:
            body = name + content
            return struct.pack(">I", len(content)) + body + struct.pack(">I", zlib.crc32(body))

        head = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
        rows = zlib.compress(bytes(100_000), 9)
        file.write_bytes(
            b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")
        )
        sentence = refused(file)
        assert "megapixels" in sentence or "cannot be read" in sentence


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"not a picture",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"%PDF-1.7",
        b"GIF89a" + bytes(40),
        b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 10 10\n",
        picture("GIF"),
        picture("BMP"),
        picture("TIFF"),
        picture("JPEG")[:200],
        picture("PNG")[:60],
        picture("WEBP")[:30],
    ],
)
def test_what_is_no_photo_is_refused(tmp_path: Path, content: bytes):
    file = tmp_path / "photo.jpg"
    file.write_bytes(content)
    assert "cannot be read as a picture" in refused(file)


@given(st.sampled_from(list(KINDS)), st.integers(0, 2**32), st.binary(min_size=1, max_size=6))
@settings(max_examples=80)
def test_a_damaged_photo_is_kept_or_refused_in_one_sentence(
    tmp_path_factory: pytest.TempPathFactory, kind: str, where: int, what: bytes
):
    content = bytearray(tagged(kind))
    at = where % len(content)
    content[at : at + len(what)] = what
    file = tmp_path_factory.getbasetemp() / "damaged"
    file.write_bytes(content)
    try:
        kept_or_said = read_photo(file).content
    except BadPhoto as error:
        kept_or_said = str(error).encode().replace(b"\n", SECRET)
    assert SECRET not in kept_or_said


@pytest.mark.parametrize("size", [(LONGEST_TAKEN + 1, 1), (1, LONGEST_TAKEN + 1)])
def test_a_strip_longer_than_any_camera_takes_is_refused(tmp_path: Path, size: tuple[int, int]):
    (tmp_path / "strip.png").write_bytes(picture("PNG", size, "L"))
    assert "longer than 30,000 pixels" in refused(tmp_path / "strip.png")


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_a_photo_of_fifty_megapixels_fits_the_memory(tmp_path: Path, kind: str):
    mode = "RGBA" if kind == "PNG" else "RGB"
    Image.new(mode, (7_071, 7_071)).save(tmp_path / "photo", kind)
    told = bounded.python(
        """
        import sys
        from pathlib import Path
        from trueup.lineage.files.photos import read_photo
        print(read_photo(Path(sys.argv[1])).suffix)
        """,
        str(tmp_path / "photo"),
    )
    assert told.strip() == KINDS[kind]


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_of_a_photo_that_moves_the_first_picture_is_kept(tmp_path: Path, kind: str):
    frames = [Image.new("RGB", (20, 20), (n, 0, 0)) for n in range(200)]
    stream = io.BytesIO()
    frames[0].save(stream, kind, save_all=True, append_images=frames[1:])
    with Image.open(io.BytesIO(kept(tmp_path, stream.getvalue()).content)) as image:
        assert getattr(image, "n_frames", 1) == 1
        assert image.convert("RGB").getpixel((5, 5))[0] < 20
