"""A small theatre's wardrobe with everything in it that a book shows, and its book."""

from pathlib import Path

from PIL import Image

from tests.cli.conftest import Trueup, build

HOSTILE = '<img src=x onerror="alert(1)"><script>alert(2)</script>'
"""What a stranger might write where a name or a sentence is expected."""


def bind(folder: Path) -> Path:
    """Build the wardrobe in a folder, correct its block, and return the file of its book."""
    build(folder / "theatre")
    trueup = Trueup(folder / "theatre")
    for piece in ("front", "back", "sleeve"):
        trueup.made("style", "village", "seam-allowance", "--piece", piece, "--by", "15mm")
    photo = folder / "worn.jpg"
    Image.new("RGB", (400, 300), "grey").save(photo)
    trueup.made("cut", "blouse", "--name", "tea-blouse", "--wearer", HOSTILE, "--fabric", HOSTILE)
    trueup.made(
        *("note", "tea-blouse", "armhole-binds", "--place", "front.armhole", "--amount", "8mm"),
        *("--words", HOSTILE, "--photo", str(photo)),
    )
    trueup.made(
        *("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm"),
        *("--why", HOSTILE),
    )
    file = folder / "book.html"
    trueup.made("book", str(file), "--versions", "9")
    return file
