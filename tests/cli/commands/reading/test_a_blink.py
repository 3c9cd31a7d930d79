"""A reading verb loads only what it uses: where the answer is kept, no library that computes."""

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.checkout import IMPORTS
from tests.cli.conftest import run

HEAVY = {
    *("numpy", "shapely", "networkx", "fontTools", "defusedxml"),  # geometry and graphs
    *("pydantic", "tomlkit", "filelock", "git"),  # converting, writing
    *("PIL", "reportlab", "resvg_py", "ezdxf", "jinja2"),  # pictures, sheets and books
    *("asyncio", "concurrent", "multiprocessing", "distributed"),  # workers
}
"""What takes long to load, and what is not needed to say what is known already."""

VERBS = (
    (),
    ("tree",),
    ("check", "village"),
    ("check", "own"),
    ("conflicts",),
    ("conflicts", "blouse"),
    ("history",),
    ("history", "own"),
    ("history", "sunday-own"),
    ("garments",),
    ("garment", "sunday-own"),
    ("measure", "own"),
    ("measure", "own", "front"),
)


@pytest.fixture(scope="module")
def wardrobe(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wardrobe with a correction, the conflicts it brought, and a garment with a fit note."""
    folder = tmp_path_factory.mktemp("blink") / "theatre"
    shutil.copytree(built, folder)
    for words in (
        ("cut", "own", "--name", "sunday-own", "--wearer", "A"),
        ("note", "sunday-own", "armhole-binds", "--place", "front.armhole"),
        ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm"),
    ):
        answer = run("-C", str(folder), *words)
        assert answer.code == 0, answer.err
    return folder


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("cache")


def ran(
    wardrobe: Path, cache: Path, words: tuple[str, ...]
) -> tuple[subprocess.CompletedProcess[str], set[str]]:
    """Return what the command answered in a process of its own, and which libraries it loaded."""
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "trueup.cli", "-C", str(wardrobe), *words],
        env={**os.environ, "PYTHONPATH": IMPORTS, "TRUEUP_CACHE": str(cache)},
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode in (0, 1), done.stderr
    return done, set(_loaded(done.stderr))


def _loaded(told: str) -> Iterator[str]:
    for line in told.splitlines():
        if found := re.fullmatch(r"import time:.*\| +(\w+)[\w.]*", line):
            yield found[1]


@pytest.mark.parametrize("how", [(), ("--json",)], ids=["told", "as json"])
@pytest.mark.parametrize("words", VERBS, ids=" ".join)
def test_a_verb_that_reads_what_is_kept_loads_no_heavy_library(
    wardrobe: Path, cache: Path, words: tuple[str, ...], how: tuple[str, ...]
) -> None:
    before, _ = ran(wardrobe, cache, (*words, *how))  # keeps what it worked out
    after, loaded = ran(wardrobe, cache, (*words, *how))
    assert {"trueup", "typer"} <= loaded  # else none of it was seen
    assert loaded & HEAVY == set()
    assert (after.returncode, after.stdout) == (before.returncode, before.stdout)


def test_what_is_not_kept_is_worked_out(wardrobe: Path, tmp_path: Path) -> None:
    _, loaded = ran(wardrobe, tmp_path, ("measure", "own"))
    assert {"numpy", "shapely"} <= loaded
