"""A small wardrobe that holds one of everything a wardrobe can hold, and its clone.

A body with a set of measurements, blocks drafted and traced, patterns with style changes, a
correction that brought a conflict, a decision, a garment with its outline, a fit note with its
photo.
"""

import shutil
import subprocess
from pathlib import Path

from PIL import Image

from tests.warm import Warm, environment

BODY = ("--bust", "88cm", "--waist", "68cm", "--back-length", "38cm", "--sleeve-length", "54cm")
SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front")


def build(trueup: Warm, folder: Path) -> None:
    """Build the wardrobe in a new folder, verb by verb."""
    beside = folder.parent

    def made(*words: str) -> str:
        answer = trueup("-C", str(folder), *words)
        assert answer.code == 0, answer
        return answer.out

    answer = trueup("start", str(folder), "--name", "theatre", "--unit", "cm")
    assert answer.code == 0, answer
    about = ("--date", "2025-03-31", "--taken-by", "Mina", "--words", "over a shift")
    made("body", "Marta", *BODY, *about, "--also", "instep=24cm")
    made("draft", "village", "--for", "Marta")
    made("correct", "village", "seam-allowance", "--piece", "front", "--by", "15mm")
    made("derive", "easy", "--from", "village", "--block")
    made("style", "easy", "shorten-shoulder", "--by=-5mm")
    made("derive", "blouse", "--from", "easy")
    made("style", "blouse", "lower-neck", "--piece", "front", "--by", "20mm", "--why", "summer")
    made("derive", "vest", "--from", "village:front,back")
    made("export", "easy", str(beside / "drawn.svg"))
    made("trace", str(beside / "drawn.svg"), "traced")
    made("cut", "blouse", "--name", "linen", "--fabric", "linen", "--wearer", "Marta")
    Image.new("RGB", (60, 40), "teal").save(beside / "seen.jpg")
    where = ("--place", "front.armhole", "--amount", "1cm", "--words", "binds")
    made("note", "linen", "armhole-binds", *where, "--photo", str(beside / "seen.jpg"))
    made(*SCOOP, "--by", "20mm", "--why", "binds")


def clone(folder: Path, place: Path, home: Path) -> None:
    """Clone a wardrobe with plain git, as another maker would."""
    words = ["git", "clone", "--quiet", "--no-hardlinks", str(folder), str(place)]
    subprocess.run(words, check=True, env=environment(home))


def build_two(trueup: Warm, beside: Path) -> tuple[Path, Path]:
    """Build the wardrobe and a clone in which another maker took a step of their own."""
    folder, other = beside / "wardrobe", beside / "clone"
    build(trueup, folder)
    clone(folder, other, beside / "home")
    answer = trueup("-C", str(other), "style", "vest", "lengthen", "--by", "3cm")
    assert answer.code == 0, answer
    return folder, other


def copy(built: Path, place: Path) -> Path:
    """Copy a built wardrobe, links and all."""
    shutil.copytree(built, place, symlinks=True)
    return place
