import os
import sqlite3
import stat
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests import spoiling
from trueup.lineage.evaluation.cache import sealed_rows
from trueup.lineage.evaluation.cache.sealed_rows import SealedRows, key_from

KEY = key_from(b"s" * 32, b"this program")
ROWS = [("summary", f"{number:03}", bytes([number]) * 900) for number in range(120)]
WORTH = {key: content for _, key, content in ROWS}


@contextmanager
def rows_in(path: Path, key: bytes = KEY) -> Iterator[SealedRows]:
    rows = SealedRows(path, key)
    yield rows
    rows.close()


def kept(path: Path, key: bytes = KEY) -> dict[str, bytes]:
    with rows_in(path, key) as rows:
        return rows.read("summary", WORTH)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    folder = tmp_path / "rows"
    folder.mkdir()
    with rows_in(folder / "rows.sqlite") as rows:
        rows.write(ROWS)
    return folder / "rows.sqlite"


def test_what_was_kept_is_found_again_and_nothing_else(path: Path):
    assert kept(path) == WORTH
    with rows_in(path) as rows:
        assert rows.read("summary", ["001", "nosuch"]) == {"001": WORTH["001"]}
        assert rows.read("draft", WORTH) == {}
        assert rows.read("summary", []) == {}
        rows.write([("summary", "001", b"anew")])
        assert rows.read("summary", ["001"]) == {"001": b"anew"}
    assert [each.name for each in path.parent.iterdir()] == [path.name]


def test_another_program_or_another_user_has_kept_nothing(path: Path):
    assert kept(path, key_from(b"s" * 32, b"another program")) == {}
    assert kept(path) == {}  # and what is of no use to this one is not carried along


def test_a_row_under_another_name_or_of_another_kind_is_none(path: Path):
    for change in (
        "UPDATE kept SET key = 'x' || key",
        "UPDATE kept SET kind = 'draft'",
        "UPDATE kept SET sealed = (SELECT sealed FROM kept WHERE key = '007')",
        "UPDATE kept SET sealed = sealed || x'00'",
        "UPDATE kept SET sealed = substr(sealed, 1, length(sealed) - 1)",
        "UPDATE kept SET sealed = substr(sealed, 33)",
        "UPDATE kept SET sealed = NULL",
        "UPDATE kept SET sealed = 12",
        "UPDATE kept SET sealed = 'text'",
        "UPDATE kept SET sealed = zeroblob(900)",
    ):
        with rows_in(path) as rows:
            rows.write(ROWS)
        with spoiling.opened(path) as database:
            database.execute(change)
        found = {**kept(path), "007": WORTH["007"]}
        assert found == {"007": WORTH["007"]}, change


def test_a_rotten_bit_anywhere_never_gives_another_content(path: Path):
    bits = path.stat().st_size * 8
    sound = path.read_bytes()
    # All of the head and of what says how the file is made up, then steps that share no factor
    # with the length of a row or a page.
    for bit in [*range(0, 100 * 8, 7), *range(0, bits, bits // 500 | 1)]:
        path.write_bytes(sound)
        spoiling.flip(path, bit)
        found = kept(path)
        assert found.items() <= WORTH.items(), bit
        with rows_in(path) as rows:
            rows.write(ROWS)
        assert kept(path).items() <= WORTH.items(), bit
    assert kept(path) == WORTH


def cut(path: Path) -> None:
    os.truncate(path, path.stat().st_size // 2 + 17)


def riddled(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[200 : len(content) // 2] = os.urandom(len(content) // 2 - 200)
    path.write_bytes(content)


def linked(path: Path) -> None:
    path.rename(path.with_name("moved"))
    path.symlink_to("moved")


def by_sql(*lines: str) -> Callable[[Path], None]:
    def spoil(path: Path) -> None:
        with spoiling.opened(path) as database:
            for line in lines:
                database.execute(line)

    return spoil


SPOILT = {
    "empty": lambda path: path.write_bytes(b""),
    "one byte": lambda path: path.write_bytes(b"S"),
    "foreign": lambda path: path.write_bytes(b"no database, though long enough for one" * 200),
    "zeros": lambda path: path.write_bytes(bytes(path.stat().st_size)),
    "cut": cut,
    "riddled": riddled,
    "no table": by_sql("DROP TABLE kept"),
    "another table": by_sql("DROP TABLE kept", "CREATE TABLE kept (kind, key, sealed)"),
    "one more table": by_sql("CREATE TABLE more (a)"),
    "one more index": by_sql("CREATE INDEX more ON kept (sealed)"),
    "a view": by_sql("CREATE VIEW more AS SELECT 1"),
    "endless": spoiling.plant_endless_view,
    "trigger": spoiling.plant_trigger,
    "waiting": by_sql("PRAGMA journal_mode = WAL"),
    "gone": Path.unlink,
    "link": linked,
    "pipe": lambda path: (path.unlink(), os.mkfifo(path)),
}


@pytest.mark.parametrize("spoil", SPOILT.values(), ids=SPOILT.keys())
def test_a_spoilt_file_holds_nothing_false_and_is_made_anew(path: Path, spoil: spoiling.Spoil):
    spoil(path)
    assert kept(path).items() <= WORTH.items()
    with rows_in(path) as rows:
        rows.write(ROWS)
    assert kept(path) == WORTH
    assert path.lstat().st_mode == stat.S_IFREG | 0o600


def test_a_file_that_is_spoilt_while_it_is_open_is_made_anew(path: Path):
    with rows_in(path) as rows:
        riddled(path)
        rows.write([(*row[:2], b"larger" * 300) for row in ROWS])
    assert set(kept(path)) == set(WORTH)


def test_a_journal_beside_the_file_is_not_followed(path: Path):
    diary = path.with_name("diary")
    diary.write_bytes(b"mine")
    spoiling.plant_hot_journal(path, str(diary))
    assert kept(path) == {}
    assert diary.read_bytes() == b"mine"
    assert {each.name for each in path.parent.iterdir()} == {path.name, "diary"}


def test_a_folder_in_the_place_of_the_file_or_of_a_journal_is_left_alone(tmp_path: Path):
    for end in ("", "-journal"):
        folder = tmp_path / f"rows{end}"
        folder.mkdir()
        with rows_in(tmp_path / "rows") as rows:
            rows.write(ROWS)
            assert rows.read("summary", WORTH) == {}
        folder.rmdir()


def test_a_file_that_another_command_holds_is_done_without(
    path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(sealed_rows, "_PATIENCE", 0.01)
    with spoiling.opened(path) as holder:
        holder.execute("BEGIN EXCLUSIVE")
        with rows_in(path) as rows:
            rows.write(ROWS)
            assert rows.read("summary", WORTH) == {}
    with rows_in(path) as rows, spoiling.opened(path) as holder:
        holder.execute("BEGIN IMMEDIATE")
        assert rows.read("summary", WORTH) == WORTH
        rows.write([("summary", "001", b"anew")])
    assert kept(path) == WORTH


def test_two_commands_that_start_together_both_keep(tmp_path: Path):
    with rows_in(tmp_path / "rows") as one, rows_in(tmp_path / "rows") as other:
        one.write(ROWS[:60])
        other.write(ROWS[60:])
        assert one.read("summary", WORTH) == other.read("summary", WORTH) == WORTH


def test_a_file_that_cannot_be_written_is_read(plain_place: Path):
    path = plain_place / "rows"
    with rows_in(path) as rows:
        rows.write(ROWS)
    path.chmod(0o400)
    plain_place.chmod(0o500)
    with rows_in(path) as rows:
        assert rows.read("summary", WORTH) == WORTH
        rows.write([("summary", "001", b"anew")])
    assert kept(path) == WORTH
    path.chmod(0)
    assert kept(path) == {}


def test_a_full_disk_keeps_what_there_was(path: Path):
    with rows_in(path) as rows:
        assert rows._database is not None
        rows._database.execute("PRAGMA max_page_count = 3")  # as good as a full disk to SQLite
        rows.write([("draft", str(number), bytes(9000)) for number in range(99)])
    with rows_in(path) as rows:
        assert rows.read("draft", map(str, range(99))) == {}
    assert kept(path) == WORTH


def test_above_its_size_the_oldest_rows_go(path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sealed_rows, "LARGEST_FILE", path.stat().st_size * 2)
    with rows_in(path) as rows:
        for number in range(2000):
            rows.write([("draft", str(number), os.urandom(2000))])
        assert rows.read("draft", ["1999"])
        assert not rows.read("draft", ["0"])
    assert path.stat().st_size <= sealed_rows.LARGEST_FILE + 20_000
    assert kept(path) == {}


def test_a_file_far_above_its_size_is_not_opened(path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sealed_rows, "LARGEST_FILE", path.stat().st_size // 3)
    assert kept(path) == {}


def test_a_file_that_nothing_makes_smaller_is_given_up(path: Path, monkeypatch: pytest.MonkeyPatch):
    with rows_in(path) as rows:
        monkeypatch.setattr(sealed_rows, "LARGEST_FILE", 1)
        rows.write(ROWS)
        assert rows.read("summary", WORTH) == {}


def test_a_row_that_is_too_large_is_not_kept(path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sealed_rows, "LARGEST_ROW", 2000)
    with rows_in(path) as rows:
        rows.write([("draft", "large", bytes(2000)), ("draft", "small", b"s")])
        assert rows.read("draft", ["large", "small"]) == {"small": b"s"}
    assert kept(path) == WORTH


def test_work_without_an_end_is_stopped(path: Path, monkeypatch: pytest.MonkeyPatch):
    with rows_in(path) as rows:
        assert rows._database is not None
        endless = (
            "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT max(i) FROM n"
        )
        with pytest.raises(sqlite3.OperationalError, match="interrupted"):
            rows._database.execute(endless)
        assert rows.read("summary", WORTH) == WORTH  # each call has its own limit


def test_a_command_killed_while_it_writes_leaves_nothing_false(path: Path):
    lines = (
        "import sys; from pathlib import Path\n"
        "from trueup.lineage.evaluation.cache.sealed_rows import *\n"
        "rows = SealedRows(Path(sys.argv[1]), bytes.fromhex(sys.argv[2])); print(flush=True)\n"
        "while True: rows.write([('summary', f'{n:03}', bytes([n]) * 900) for n in range(120)])"
    )
    for _ in range(5):
        command = [sys.executable, "-c", lines, str(path), KEY.hex()]
        with subprocess.Popen(command, stdout=subprocess.PIPE) as running:
            assert running.stdout is not None
            running.stdout.readline()
            with rows_in(path) as rows:
                assert rows.read("summary", WORTH).items() <= WORTH.items()
            running.kill()
        assert kept(path).items() <= WORTH.items()
        assert [each.name for each in path.parent.iterdir()] == [path.name]
