import os
import sqlite3
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from geometry.chain import Chain
from lineage import cache as cache_module
from lineage.cache import FILE_NAME, FileCache
from lineage.evaluate import Evaluator
from lineage.program import program
from tests.lineage.making import block, child, state, step

STORE = state(
    block(),
    child("easy", step("e1", "add-ease", by="40mm")),
    child("blouse", step("b1", "lower-neck", piece="front", by="20mm"), of="easy"),
)
NAMES = ["village", "easy", "blouse"]


def evaluated(folder: Path) -> list[str]:
    """Evaluate all with the cache of a folder; return what really was evaluated."""
    cache = FileCache(folder)
    evaluator = Evaluator(STORE, cache)
    for name in NAMES:
        evaluator.summary(name)
        evaluator.draft(name)
    cache.close()
    return evaluator.ran


def test_what_was_evaluated_is_found_again(tmp_path: Path):
    assert evaluated(tmp_path) == NAMES
    assert evaluated(tmp_path) == ["blouse"]  # asked for the geometry of a leaf, which is not kept
    first, second = FileCache(tmp_path), Evaluator(STORE)
    for name in NAMES:
        assert first.summary(second.key(name)) == second.summary(name)
        kept = first.draft(second.key(name))
        assert kept is None if name == "blouse" else kept == second.draft(name)
    first.close()


def test_what_was_just_kept_is_found_before_it_is_written(tmp_path: Path):
    cache = FileCache(tmp_path)
    Evaluator(STORE, cache).summary("blouse")
    second = Evaluator(STORE, cache)
    second.summary("blouse")
    assert second.ran == []
    cache.close()


def spoil_by_bytes(content: bytes) -> Callable[[Path], None]:
    return lambda path: path.write_bytes(content) and None


def spoil_in_the_middle(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[200 : len(content) // 2] = os.urandom(len(content) // 2 - 200)
    path.write_bytes(content)


def spoil_by_sql(*lines: str) -> Callable[[Path], None]:
    def spoil(path: Path) -> None:
        with sqlite3.connect(path) as database:
            for line in lines:
                database.execute(line)

    return spoil


@pytest.mark.parametrize(
    "spoil",
    [
        spoil_by_bytes(b""),
        spoil_by_bytes(b"not a database at all, but long enough to be read as one" * 100),
        spoil_in_the_middle,
        lambda path: os.truncate(path, path.stat().st_size // 2),
        spoil_by_sql("DROP TABLE evaluated", "CREATE TABLE evaluated (a, b)"),
        spoil_by_sql("UPDATE evaluated SET summary = x'ff00', draft = x'93'"),
        spoil_by_sql("UPDATE evaluated SET summary = 'text', draft = 7"),
        spoil_by_sql("UPDATE evaluated SET summary = x'80', draft = x'80'"),
    ],
    ids=["empty", "foreign", "damaged", "cut", "other-table", "no-msgpack", "no-bytes", "no-draft"],
)
def test_a_spoilt_cache_counts_as_empty_and_is_made_anew(spoil, tmp_path: Path):
    evaluated(tmp_path)
    spoil(tmp_path / FILE_NAME)
    assert sorted(set(evaluated(tmp_path))) == sorted(NAMES)
    assert evaluated(tmp_path) == ["blouse"]


def test_a_kept_draft_that_does_not_close_counts_as_none(tmp_path: Path):
    evaluator = Evaluator(STORE)
    draft = evaluator.draft("village")
    front = draft.piece("front")
    neck = front.edge("neck")
    object.__setattr__(neck, "parts", (Chain.line(0j, 900 + 900j),))  # what no piece can hold
    cache = FileCache(tmp_path)
    cache.keep("key", evaluator.summary("village"), draft)
    cache.flush()
    assert cache.draft("key") is None
    assert cache.summary("key") is not None
    cache.close()


def test_a_link_in_the_place_of_the_cache_is_not_followed(tmp_path: Path):
    target = tmp_path / "diary"
    target.write_bytes(b"mine")
    for number, name in enumerate((FILE_NAME, f"{FILE_NAME}-journal", f"{FILE_NAME}-wal")):
        folder = tmp_path / str(number)
        folder.mkdir()
        (folder / name).symlink_to(target)
        assert evaluated(folder) == NAMES
        assert target.read_bytes() == b"mine"
        assert (folder / name).is_symlink()


def test_a_folder_or_a_pipe_in_the_place_of_the_cache_is_left_alone(tmp_path: Path):
    for number, make in enumerate((Path.mkdir, os.mkfifo)):
        folder = tmp_path / str(number)
        folder.mkdir()
        make(folder / FILE_NAME)
        assert evaluated(folder) == NAMES
        mode = (folder / FILE_NAME).stat().st_mode
        assert stat.S_ISDIR(mode) or stat.S_ISFIFO(mode)


def test_a_cache_that_another_program_holds_is_done_without(tmp_path: Path):
    evaluated(tmp_path)
    with sqlite3.connect(tmp_path / FILE_NAME, isolation_level=None) as holder:
        holder.execute("BEGIN EXCLUSIVE")
        assert evaluated(tmp_path) == NAMES
        holder.execute("ROLLBACK")
    assert evaluated(tmp_path) == ["blouse"]


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_cache_that_cannot_be_written_is_read(tmp_path: Path):
    evaluated(tmp_path)
    (tmp_path / FILE_NAME).chmod(0o400)
    tmp_path.chmod(0o500)
    assert evaluated(tmp_path) == ["blouse"]
    tmp_path.chmod(0o700)


def test_a_cache_on_a_full_disk_is_done_without(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    cache = FileCache(tmp_path)
    assert cache._database is not None
    cache._database.execute("PRAGMA max_page_count = 3")  # as good as a full disk to SQLite
    evaluator = Evaluator(STORE, cache)
    for name in NAMES:
        evaluator.summary(name)
    cache.flush()
    cache.close()
    assert sorted(set(evaluated(tmp_path))) == sorted(NAMES)


def test_what_another_state_of_the_program_kept_counts_as_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    evaluated(tmp_path)
    monkeypatch.setattr(cache_module, "program", lambda: 7)
    assert evaluated(tmp_path) == NAMES
    assert evaluated(tmp_path) == ["blouse"]


def test_the_program_is_told_by_its_code():
    assert 0 <= program() < 2**31
    assert program() == program.__wrapped__()
