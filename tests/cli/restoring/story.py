"""A wardrobe with something of everything in it, made step by step by the real command."""

import subprocess
from pathlib import Path

from PIL import Image

from tests.cli.conftest import build, run

SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "8mm")


def made(folder: Path, *words: str) -> None:
    answer = run("-C", str(folder), *words)
    assert answer.code == 0, answer.err


def git(folder: Path, *words: str, fails: bool = False) -> str:
    """Run the maker's own git."""
    done = subprocess.run(
        ["git", *words], cwd=folder, capture_output=True, text=True, check=False, timeout=120
    )
    assert fails or done.returncode == 0, done.stderr
    return done.stdout.strip()


def tell(folder: Path, scratch: Path) -> None:
    """Build the wardrobe: cloth that was cut, a photo, a traced block, a tag and a second branch.

    Half of the history is packed, the rest lies in files of its own.
    """
    scratch.mkdir(parents=True, exist_ok=True)
    build(folder)
    made(folder, "body", "Ada", "--bust", "92cm", "--waist", "70cm", "--date", "2025-03-01")
    made(folder, "cut", "blouse", "--wearer", "Ada", "--date", "2025-03-01")
    photo = scratch / "fitting.jpeg"
    Image.effect_noise((120, 90), 60).convert("RGB").save(photo)
    seen = ("note", "blouse-1", "armhole-gapes", "--place", "front.armhole")
    made(folder, *seen, "--photo", str(photo))
    made(folder, "export", "village", str(scratch / "out.svg"), "--force")
    made(folder, "trace", str(scratch / "out.svg"), "traced")
    git(folder, "tag", "first-fitting")
    git(folder, "branch", "as-drafted")
    git(folder, "gc", "--quiet", "--prune=now")
    git(folder, "pack-refs", "--all")
    made(folder, *SCOOP, "--why", "gapes")
    made(folder, "derive", "shirt", "--from", "traced")
    made(folder, "undo")
    made(folder, *SCOOP[:-1], "3mm", "--why", "still gapes")
