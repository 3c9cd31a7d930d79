"""A file that came to harm: said in one sentence with what helps, nothing lost, nothing made worse.

A sample of what `run_all` does to every file in every way.
"""

import subprocess
from pathlib import Path

import pytest

from tests.damage.judging import NEEDS_PERMISSIONS, Harm, case_of, faults, undergo
from tests.damage.spoiling import MANNERS
from tests.unprivileged import permissions_hold
from tests.warm import Answer, Warm

LATEST = ".git/(latest)"
"""Stands for the commit on top, the object the branch names."""

SAMPLE = (
    ("wardrobe.toml", "deleted"),
    ("wardrobe.toml", "unreadable"),
    ("blocks/village.toml", "zeros"),
    ("blocks/village.toml", "read-only"),
    ("blocks/traced.svg", "halved"),
    ("patterns/blouse.toml", "a link"),
    ("patterns/blouse.toml", "unreadable"),
    ("garments/linen.toml", "a folder"),
    ("bodies/marta.toml", "halved"),
    ("bodies/marta.toml", "a link"),
    ("bodies/marta.toml", "unreadable"),
    ("bodies/marta.toml", "deleted"),
    ("garments/linen.svg", "deleted"),
    ("garments/linen.svg", "flipped in the middle"),
    ("photos/", "zeros"),
    (".git/HEAD", "emptied"),
    (".git/HEAD", "unreadable"),
    (".git/config", "zeros"),
    (".git/index", "flipped in the middle"),
    (".git/index", "unreadable"),
    (".git/refs/heads/main", "zeros"),
    (".git/refs/heads/main", "first letter exchanged"),
    (".git/refs/heads/main", "in a read-only folder"),
    (".git/logs/HEAD", "a folder"),
    (LATEST, "flipped in the middle"),
    (LATEST, "unreadable"),
)


def _file(whole: Path, file: str) -> str:
    """Return the file that a name of the sample stands for."""
    if file == LATEST:
        asked = ["git", "-C", str(whole), "rev-parse", "HEAD"]
        head = subprocess.run(asked, capture_output=True, text=True, check=True).stdout.strip()
        return f".git/objects/{head[:2]}/{head[2:]}"
    if file.endswith("/"):
        return next(p.relative_to(whole).as_posix() for p in (whole / file).iterdir())
    return file


@pytest.fixture(scope="module")
def clean(trueup: Warm, whole: Path, tmp_path_factory: pytest.TempPathFactory) -> list[Answer]:
    """What the verbs answer where nothing happened."""
    return undergo(trueup, case_of(whole, tmp_path_factory.mktemp("clean")))


@pytest.mark.parametrize(("file", "manner"), SAMPLE, ids=map(" ".join, SAMPLE))
def test_harm_is_told_and_nothing_is_lost(
    trueup: Warm, whole: Path, clean: list[Answer], tmp_path: Path, file: str, manner: str
) -> None:
    if manner in NEEDS_PERMISSIONS and not permissions_hold():
        pytest.skip("nothing holds root back here")
    harm = Harm(_file(whole, file), manner)
    case = case_of(whole, tmp_path)
    harm.do(case.folder)
    before = case.lies_outside()
    answers = undergo(trueup, case)
    assert faults(answers, clean, harm, case, whole) == []
    assert case.lies_outside() == before


def test_the_sample_knows_every_manner() -> None:
    assert {manner for _, manner in SAMPLE} <= MANNERS.keys()
