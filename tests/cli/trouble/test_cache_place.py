"""Where the cache lies, through the real command: never in a wardrobe, and it costs time only."""

import os
import resource
import subprocess
import sys
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests import spoiling
from tests.checkout import IMPORTS
from tests.cli.conftest import Answer, Trueup

ROOT = Path(__file__).parents[3]
OLD = ".trueup-cache"
ENDINGS = ("", "-journal", "-wal", "-shm")
VERBS = (
    *(("tree",), ("check", "blouse"), ("measure", "blouse"), ("history",), ("conflicts",)),
    *(("style", "vest", "lengthen", "--by", "10mm"), ("undo",)),
)
PREVIEW = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm", "--preview")


def cache_files(wardrobe: Path) -> list[Path]:
    """Return the files that anything evaluated is kept in, wherever they lie."""
    files = [*wardrobe.glob(OLD), *Path(os.environ["TRUEUP_CACHE"]).glob("**/*")]
    return [path for path in files if path.is_file() and path.read_bytes()[:6] == b"SQLite"]


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder of the test's own."""
    folder = tmp_path / "cache-place"
    folder.mkdir()
    monkeypatch.setenv("TRUEUP_CACHE", str(folder))
    return folder


def git(folder: Path, *words: str) -> str:
    maker = ("-c", "user.name=A", "-c", "user.email=a@b")
    done = subprocess.run(
        ["git", *maker, *words], cwd=folder, check=True, capture_output=True, text=True
    )
    return done.stdout


def process(folder: Path, *words: str, **options: Any) -> Answer:
    """Run the command as a process of its own, which is stopped when it hangs."""
    done = subprocess.run(
        [sys.executable, "-m", "trueup.cli", "-C", str(folder), *words],
        env={**os.environ, "PYTHONPATH": IMPORTS},
        capture_output=True, text=True, check=False, timeout=120, **options,
    )  # fmt: skip
    return Answer(done.returncode, done.stdout, done.stderr)


# --- a cache that lies in a wardrobe --------------------------------------------------------------


def test_a_journal_in_a_wardrobe_deletes_no_file_of_the_users(
    trueup: Trueup, tmp_path: Path
) -> None:
    diary = tmp_path / "diary"
    diary.write_text("mine")
    spoiling.plant_hot_journal(trueup.folder / OLD, str(diary))
    git(trueup.folder, "add", "-f", OLD, f"{OLD}-journal")
    git(trueup.folder, "commit", "-q", "-m", "Some more")
    clone = tmp_path / "clone"
    git(tmp_path, "clone", "-q", str(trueup.folder), str(clone))
    for folder in (trueup.folder, clone):
        for words in VERBS:
            assert Trueup(folder)(*words).code in (0, 1)
            assert diary.read_text() == "mine"
        assert (folder / f"{OLD}-journal").exists()


def lie(path: Path) -> None:
    path.write_bytes(b"mine")


def lead(path: Path) -> None:
    path.symlink_to(path.with_name("wardrobe.toml"))


@pytest.mark.parametrize("make", [lie, lead, os.mkfifo, Path.mkdir])
def test_a_cache_in_a_wardrobe_is_neither_opened_nor_touched(
    trueup: Trueup, make: Callable[[Path], None]
) -> None:
    for end in ENDINGS:
        path = trueup.folder / f"{OLD}{end}"
        make(path)
        # Read after it was last read before it was changed, it would bear another date.
        os.utime(path, ns=(1, 2), follow_symlinks=False)
    before = [(trueup.folder / f"{OLD}{end}").lstat() for end in ENDINGS]
    assert process(trueup.folder, *VERBS[0]).code == 0
    for words in VERBS:
        assert trueup(*words).code in (0, 1)
    assert [(trueup.folder / f"{OLD}{end}").lstat() for end in ENDINGS] == before


def test_nothing_evaluated_is_kept_in_a_wardrobe(trueup: Trueup, place: Path) -> None:
    before = set(trueup.contents())
    for words in VERBS:
        assert trueup(*words).code in (0, 1)
    assert set(trueup.contents()) == before
    assert list(place.glob("trueup/*.sqlite"))


def test_a_wardrobe_that_was_started_with_a_cache_in_it_stays_clean(trueup: Trueup) -> None:
    (trueup.folder / ".gitignore").write_bytes(b"/.trueup-cache*\n")
    git(trueup.folder, "add", ".gitignore")
    git(trueup.folder, "commit", "-q", "-m", "As it was once")
    for end in ENDINGS:
        (trueup.folder / f"{OLD}{end}").write_bytes(b"left")
    assert trueup("style", "vest", "lengthen", "--by", "10mm").code == 0
    assert git(trueup.folder, "status", "--porcelain") == ""
    assert trueup("tree").err == ""


# --- a cache that is spoilt -----------------------------------------------------------------------


QUESTIONS = (("measure", "blouse", "--json"), ("check", "own", "--json"), (*PREVIEW, "--json"))


@pytest.mark.parametrize("spoil", [spoiling.scale_numbers, spoiling.exchange_rows])
def test_nothing_written_in_a_cache_changes_an_answer(
    trueup: Trueup, spoil: spoiling.Spoil
) -> None:
    answers = [trueup(*words) for words in QUESTIONS]
    for path in cache_files(trueup.folder):
        spoil(path)
    assert [trueup(*words) for words in QUESTIONS] == answers


def test_nothing_written_in_a_cache_is_run(trueup: Trueup) -> None:
    answers = [trueup(*words) for words in QUESTIONS]
    for path in cache_files(trueup.folder):
        spoiling.plant_endless_view(path)
    assert process(trueup.folder, *QUESTIONS[0]) == answers[0]
    for path in cache_files(trueup.folder):
        spoiling.plant_trigger(path)
    assert [trueup(*words) for words in QUESTIONS] == answers


def test_a_wardrobe_in_the_place_of_anothers_is_read_anew(trueup: Trueup) -> None:
    expected = trueup("measure", "vest")
    for path in cache_files(trueup.folder):
        path.unlink()
    # A stranger's: under the id of the maker's file lies an object that says something else.
    content = (trueup.folder / "patterns/vest.toml").read_bytes()
    forged = content.replace(b"40mm", b"44mm")
    assert forged != content
    blob = git(trueup.folder, "rev-parse", "HEAD:patterns/vest.toml").strip()
    stored = trueup.folder / ".git/objects" / blob[:2] / blob[2:]
    true = stored.read_bytes()
    stored.chmod(0o600)
    stored.write_bytes(zlib.compress(b"blob %d\0" % len(forged) + forged))
    assert trueup("measure", "vest").out != expected.out
    stored.write_bytes(true)
    assert trueup("measure", "vest") == expected


# --- a cache folder that cannot be had ------------------------------------------------------------


def nowhere(tmp_path: Path) -> Iterator[str]:
    """Yield places where no cache can be, or should be."""
    yield "trueup-of-mine"
    yield "../elsewhere"
    yield "~/cache"
    yield "/dev/null/cache"
    yield "/dev/full"
    yield "/proc/self/fd"
    yield "/" + "x" * 5000
    yield "/" + "x/" * 3000
    yield str(tmp_path / "none" / "of" / "these")
    file, link, loop, pipe, elsewhere = (
        tmp_path / name for name in ("file", "link", "loop", "pipe", "elsewhere")
    )
    for each in (file, link, loop, pipe):
        each.mkdir()
    elsewhere.mkdir()
    (file / "trueup").write_bytes(b"mine")
    yield str(file)
    (link / "trueup").symlink_to(elsewhere)
    yield str(link)
    (loop / "trueup").symlink_to(loop / "trueup")
    yield str(loop)
    os.mkfifo(pipe / "trueup")
    yield str(pipe)
    yield str(tmp_path / "theatre" / "blocks")


def test_without_a_place_for_the_cache_it_is_only_slower(
    trueup: Trueup, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    expected = trueup("measure", "blouse")
    around = sorted(tmp_path.rglob("*"))
    for place in nowhere(tmp_path):
        monkeypatch.setenv("TRUEUP_CACHE", place)
        assert trueup("measure", "blouse") == expected, place
    assert trueup("style", "vest", "lengthen", "--by", "10mm").code == 0
    made = {"file", "link", "loop", "pipe", "elsewhere"}
    found = [
        path for path in tmp_path.rglob("*") if path not in around and ".git" not in path.parts
    ]
    assert {path.relative_to(tmp_path).parts[0] for path in found} <= made
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_without_a_home_it_is_only_slower(
    trueup: Trueup, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    expected = trueup("measure", "blouse")
    for name in ("TRUEUP_CACHE", "XDG_CACHE_HOME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("HOME", str(tmp_path / "none"))
    assert trueup("measure", "blouse") == expected
    assert trueup("style", "vest", "lengthen", "--by", "10mm").code == 0
    assert not (tmp_path / "none").exists()


def test_it_lies_in_the_users_own_cache_folder(
    trueup: Trueup, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TRUEUP_CACHE", "")
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "home"))
    (tmp_path / "home").mkdir()
    trueup.made("measure", "blouse")
    assert list((tmp_path / "home").glob("**/*.sqlite"))


def test_a_full_disk_costs_time_only(trueup: Trueup, place: Path) -> None:
    trueup.made("style", "vest", "lengthen", "--by", "10mm")
    expected = trueup.made("measure", "blouse")
    for path in place.glob("trueup/*.sqlite"):
        path.unlink()

    def little_room() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (6000, 6000))

    for _ in range(2):
        done = process(trueup.folder, "measure", "blouse", preexec_fn=little_room)
        assert done == expected
    assert trueup.made("measure", "blouse") == expected
