import os
import subprocess
import sys
import textwrap
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.checkout import IMPORTS, ROOT
from tests.sharing.forked import Forked, start
from trueup.lineage.store import Store

FIRST = {
    "wardrobe.toml": b'name = "Village store"\n',
    "blocks/village.toml": b"kind = 'block'\n",
    "blocks/village.svg": b"<svg/>\n",
    "patterns/blouse.toml": b"parent = 'village'\n",
    "patterns/tunic.toml": b"parent = 'village'\r\nline = 'ends stay'\r\n",
}

Git = Callable[..., str]


@pytest.fixture(autouse=True)
def _a_maker_of_our_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the tests away from the settings of whoever runs them."""
    for name in [name for name in os.environ if name.startswith("GIT_")]:
        monkeypatch.delenv(name)
    home = tmp_path / "home"
    home.mkdir()
    (home / ".gitconfig").write_text("[user]\nname = Mary Tailor\nemail = mary@example.org\n")
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(home))
    monkeypatch.setenv("GIT_CONFIG_NOSYSTEM", "1")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "wardrobe"


@pytest.fixture
def store(folder: Path) -> Store:
    return Store.create(folder, FIRST, "Start the village store")


@pytest.fixture
def git(folder: Path) -> Git:
    """The maker's own git, with every setting of the repository in force."""

    def run(*arguments: str, feed: bytes = b"", cwd: Path = folder, fails: bool = False) -> str:
        done = subprocess.run(
            ["git", *arguments], cwd=cwd, input=feed, capture_output=True, check=False
        )
        assert fails or done.returncode == 0, done.stderr.decode()
        return done.stdout.decode(errors="replace").rstrip("\n")

    return run


@pytest.fixture
def python() -> Callable[..., Forked | subprocess.Popen[str]]:
    """Another process, running the given lines; with `is_anew` Python is started for them."""

    def started(
        lines: str, *arguments: object, is_anew: bool = False
    ) -> Forked | subprocess.Popen[str]:
        words = (textwrap.dedent(lines), *map(str, arguments))
        pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "start_new_session": True}
        if not is_anew:
            return start("tests.sharing.lines", *words, **pipes)
        command = [sys.executable, "-c", *words]
        environment = {**os.environ, "PYTHONPATH": IMPORTS}
        return subprocess.Popen(command, cwd=ROOT, env=environment, text=True, **pipes)

    return started


def committed(store: Store, revision: str = "HEAD") -> dict[str, bytes]:
    listing = store.listing(revision)
    contents = store.read(listing.values())
    return {path: contents[blob] for path, blob in listing.items()}


@pytest.fixture
def files_at() -> Callable[..., dict[str, bytes]]:
    """Every file of a version with its content."""
    return committed


@pytest.fixture
def assert_whole(folder: Path, git: Git) -> Callable[[], dict[str, bytes]]:
    """Open the wardrobe, see that nothing about it is half done, and return its files."""

    def check() -> dict[str, bytes]:
        with Store.open(folder) as store:
            files = committed(store)
            assert store.hand_edits() == ()
        assert git("status", "--porcelain") == ""
        assert git("for-each-ref", "refs/trueup") == ""
        assert not (folder / ".git" / "trueup" / "waiting").exists()
        git("fsck", "--strict")
        for path, content in files.items():
            assert (folder / path).read_bytes() == content
        return files

    return check
