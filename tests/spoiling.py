"""What may befall an SQLite file, by accident or by intent, whatever its tables are."""

import shutil
import sqlite3
import struct
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

Spoil = Callable[[Path], object]

_ENDLESS = "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n)"
_FLOAT = b"\xcb"  # what MessagePack writes before the eight bytes of a number


@contextmanager
def opened(path: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(path)) as database, database:
        yield database


def plant_hot_journal(path: Path, victim: str) -> None:
    """Put a database and the journal of a killed transaction in place.

    The journal names a super-journal, as one over several databases does. SQLite takes the
    transaction back when the database is next opened, and then deletes the file that is named.
    """
    with tempfile.TemporaryDirectory() as place:
        made = Path(place) / "made"
        with closing(sqlite3.connect(made, isolation_level=None)) as database:
            database.execute("CREATE TABLE kept (a)")
            database.execute("PRAGMA synchronous = OFF")
            database.execute("BEGIN")
            database.execute("INSERT INTO kept VALUES (1)")
            shutil.copyfile(made, path)
            records = made.with_name("made-journal").read_bytes()
            database.execute("ROLLBACK")
    name = victim.encode()
    page_of_the_lock = 0x40000000 // 4096 + 1
    ending = struct.pack(">I", page_of_the_lock) + name + struct.pack(">II", len(name), sum(name))
    magic = bytes.fromhex("d9d505f920a163d7")
    path.with_name(f"{path.name}-journal").write_bytes(records + ending + magic)


def tables(database: sqlite3.Connection) -> dict[str, list[str]]:
    """Return the columns of every table."""
    names = database.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
    return {
        name: [row[1] for row in database.execute(f"PRAGMA table_info({name})")]
        for (name,) in names
    }


def scale_numbers(path: Path, by: float = 1.05) -> None:
    """Make every number in every row larger."""

    def scaled(content: object) -> object:
        if not isinstance(content, bytes):
            return content
        parts = bytearray(content)
        at = parts.find(_FLOAT)
        while 0 <= at <= len(parts) - 9:
            (number,) = struct.unpack_from(">d", parts, at + 1)
            if 1e-3 < abs(number) < 1e6:
                struct.pack_into(">d", parts, at + 1, number * by)
            at = parts.find(_FLOAT, at + 9)
        return bytes(parts)

    rewrite(path, lambda rows: [[scaled(each) for each in row] for row in rows])


def exchange_rows(path: Path) -> None:
    """Give every row the content of the next."""

    def exchanged(rows: list[list[object]]) -> list[list[object]]:
        def content_of(each: object, other: object) -> object:
            return other if isinstance(each, bytes) and isinstance(other, bytes) else each

        following = rows[1:] + rows[:1]
        return [list(map(content_of, *pair)) for pair in zip(rows, following, strict=True)]

    rewrite(path, exchanged)


def rewrite(path: Path, change: Callable[[list[list[object]]], list[list[object]]]) -> None:
    """Put other rows into every table."""
    with opened(path) as database:
        for table, columns in tables(database).items():
            rows = [list(row) for row in database.execute(f"SELECT * FROM {table}")]
            database.execute(f"DELETE FROM {table}")
            places = ", ".join("?" for _ in columns)
            database.executemany(f"INSERT INTO {table} VALUES ({places})", change(rows))


def plant_endless_view(path: Path) -> None:
    """Put a view that never ends in the place of every table."""
    with opened(path) as database:
        for table, columns in tables(database).items():
            numbers = ", ".join(f"i AS {column}" for column in columns)
            database.execute(f"DROP TABLE {table}")
            database.execute(f"CREATE VIEW {table} AS {_ENDLESS} SELECT {numbers} FROM n")


def plant_trigger(path: Path) -> None:
    """Have every row that is written take all others away."""
    with opened(path) as database:
        for table in tables(database):
            database.execute(
                f"CREATE TRIGGER t_{table} AFTER INSERT ON {table} BEGIN DELETE FROM {table}; END"
            )


def flip(path: Path, bit: int) -> None:
    with path.open("r+b") as file:
        file.seek(bit // 8)
        byte = file.read(1)[0]
        file.seek(bit // 8)
        file.write(bytes([byte ^ 1 << bit % 8]))
