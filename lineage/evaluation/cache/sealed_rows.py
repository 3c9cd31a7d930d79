"""Rows in one SQLite file, each under a seal that only this user's program can make.

A row whose seal does not fit counts as absent, and a file that is not as we make it is made anew:
whatever befell it, and whoever wrote it, nothing else than what was kept is ever read from it.
"""

import hashlib
import hmac
import sqlite3
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path
from typing import TypeVar

from trueup.lineage.evaluation.cache.private_folder import make_ready

LARGEST_FILE = 512 * 2**20
"""Bytes a file may hold before its oldest rows go."""

LARGEST_ROW = 32 * 2**20
"""Bytes; the geometry of a pattern takes some thirty thousand."""

_TABLE = "CREATE TABLE kept (kind TEXT, key TEXT, sealed BLOB, PRIMARY KEY (kind, key))"
_MADE_OF: list[tuple[object, ...]] = [
    ("index", "sqlite_autoindex_kept_1", "kept", None),
    ("table", "kept", "kept", _TABLE),
]
_SETTINGS = (
    # Nothing that is written in the file is ever run.
    "trusted_schema = OFF",
    "cell_size_check = ON",
    "mmap_size = 0",
    # Nothing is ever on the disk beside the file. A command that is killed while it writes leaves
    # a torn file behind: the seals tell, and it is only a cache.
    "journal_mode = MEMORY",
    "temp_store = MEMORY",
    "synchronous = OFF",
)
_SEAL_BYTES = 32
_PATIENCE = 1.0  # seconds for another command to finish writing
_STEPS_A_LOOK = 100_000
_MOST_LOOKS = 200
"""Together some seconds of work for one call, a hundred times what ten thousand rows take."""

_MOST_PARTS = 200

_NOT_ITS_FAULT = {
    *(sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_FULL),
    *(sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM),
}
"""What fails although the file may be sound; it is left as it is."""

Row = tuple[str, str, bytes]
"""Kind, key and content."""

_T = TypeVar("_T")


def key_from(secret: bytes, program: bytes) -> bytes:
    """Return the key for the rows of one program under one secret."""
    return hashlib.blake2b(program, key=secret, digest_size=_SEAL_BYTES).digest()


class _NotOurs(sqlite3.DatabaseError):
    """The file is a database, but none that this state of the program makes."""


class SealedRows:
    """The rows of one file. Whatever goes wrong with it, rows are absent and nothing is raised."""

    def __init__(self, path: Path, key: bytes) -> None:
        self._path = path
        self._key = key
        self._looks = 0
        self._database = self._opened()

    def read(self, kind: str, keys: Iterable[str]) -> dict[str, bytes]:
        """Return the contents that were kept of a kind, by key."""
        wanted = list(keys)
        return self._attempt(lambda database: self._read(database, kind, wanted)) or {}

    def write(self, rows: Iterable[Row]) -> None:
        """Keep rows; those of the same kind and key are replaced."""
        sealed = [
            (kind, key, self._seal(kind, key, content) + content)
            for kind, key, content in rows
            if len(content) < LARGEST_ROW - _SEAL_BYTES
        ]
        if sealed:
            self._attempt(lambda database: _write(database, sealed))

    def open(self) -> None:
        """Take the file up again after it was let go."""
        if self._database is None:
            self._database = self._opened()

    def close(self) -> None:
        """Let the file go."""
        if self._database is not None:
            self._database.close()
            self._database = None

    # --- one row ----------------------------------------------------------------------------------

    def _seal(self, kind: str, key: str, content: bytes) -> bytes:
        digest = hashlib.blake2b(
            f"{kind}\0{key}\0".encode(), key=self._key, digest_size=_SEAL_BYTES
        )
        digest.update(content)
        return digest.digest()

    def _unsealed(self, kind: str, key: str, sealed: object) -> bytes | None:
        if not isinstance(sealed, bytes):
            return None
        seal, content = sealed[:_SEAL_BYTES], sealed[_SEAL_BYTES:]
        return content if hmac.compare_digest(seal, self._seal(kind, key, content)) else None

    def _read(self, database: sqlite3.Connection, kind: str, keys: list[str]) -> dict[str, bytes]:
        found: dict[str, bytes] = {}
        with database:
            if len(keys) > 1:  # else the file would be locked and let go for each
                database.execute("BEGIN")
            for key in keys:
                row = database.execute(
                    "SELECT sealed FROM kept WHERE kind = ? AND key = ?", (kind, key)
                ).fetchone()
                content = self._unsealed(kind, key, row[0]) if row else None
                if content is not None:
                    found[key] = content
        return found

    # --- the file ---------------------------------------------------------------------------------

    def _attempt(self, work: Callable[[sqlite3.Connection], _T]) -> _T | None:
        """Do something with the database; with a new one where this one turns out to be spoilt."""
        for _ in range(2):
            if self._database is None:
                return None
            self._looks = 0
            try:
                return work(self._database)
            except sqlite3.Error as error:
                self.close()
                if _is_spoilt(error):
                    self._take_away()
                    self._database = self._opened()
        return None

    def _opened(self) -> sqlite3.Connection | None:
        for _ in range(2):
            try:
                make_ready(self._path)
                if self._path.stat().st_size > 2 * LARGEST_FILE:
                    raise _NotOurs(f"{self._path} is larger than this program makes it")
                return self._connected()
            except OSError:
                return None
            except sqlite3.Error as error:
                if not _is_spoilt(error):
                    return None
                self._take_away()
        return None

    def _take_away(self) -> None:
        with suppress(OSError):
            self._path.unlink()

    def _connected(self) -> sqlite3.Connection:
        """Open the file, with its table where it is empty.

        Raises _NotOurs for anything else in it, sqlite3.Error for what is no database.
        """
        database = sqlite3.connect(self._path, timeout=_PATIENCE)
        try:
            self._harden(database)
            written_by = self._number()
            if _contents(database) == ([], 0):
                with database:
                    database.execute("BEGIN IMMEDIATE")
                    if _contents(database) == ([], 0):
                        database.execute(_TABLE)
                        database.execute(f"PRAGMA user_version = {written_by}")
            if _contents(database) != (_MADE_OF, written_by):
                raise _NotOurs(f"{self._path} is not as this program makes it")
        except BaseException:
            database.close()
            raise
        return database

    def _harden(self, database: sqlite3.Connection) -> None:
        database.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, LARGEST_ROW)
        database.setlimit(sqlite3.SQLITE_LIMIT_ATTACHED, 0)
        database.set_progress_handler(self._look, _STEPS_A_LOOK)
        if hasattr(database, "setconfig"):  # from Python 3.12 on
            database.setconfig(getattr(sqlite3, "SQLITE_DBCONFIG_DEFENSIVE", 0), True)
        for setting in _SETTINGS:
            database.execute(f"PRAGMA {setting}")

    def _look(self) -> bool:
        """Tell SQLite to stop where it was at work for longer than any sound file takes."""
        self._looks += 1
        return self._looks > _MOST_LOOKS

    def _number(self) -> int:
        """Return what marks a file as written with this key: by this program, under this secret."""
        mark = hashlib.blake2b(b"written by", key=self._key, digest_size=4).digest()
        return int.from_bytes(mark, "big") >> 1


def _contents(database: sqlite3.Connection) -> tuple[list[tuple[object, ...]], int]:
    """Return what the file is made of, as far as that could be ours, and the number it bears."""
    made_of = "SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY name DESC LIMIT 3"
    ((number,),) = database.execute("PRAGMA user_version").fetchall()
    return database.execute(made_of).fetchall(), number


def _write(database: sqlite3.Connection, rows: list[Row]) -> None:
    with database:
        database.execute("BEGIN IMMEDIATE")
        database.executemany("INSERT OR REPLACE INTO kept VALUES (?, ?, ?)", rows)
    _prune(database)


def _prune(database: sqlite3.Connection) -> None:
    """Take the oldest rows away until the file holds no more than it may.

    What is asked for again is evaluated again, and then is young. Raises _NotOurs where that is
    of no use.
    """
    for _ in range(_MOST_PARTS):
        if _held(database) <= LARGEST_FILE:
            return
        ((first, last),) = database.execute(
            "SELECT (SELECT min(rowid) FROM kept), (SELECT max(rowid) FROM kept)"
        ).fetchall()
        if first is None:
            break
        with database:  # by parts, because what a transaction takes away stays in memory meanwhile
            database.execute("DELETE FROM kept WHERE rowid <= ?", (first + (last - first) // 16,))
    raise _NotOurs("nothing that is in the file makes it as large as it is")


def _held(database: sqlite3.Connection) -> int:
    """Return the bytes of the file that hold something."""
    pages, free, size = (
        database.execute(f"PRAGMA {name}").fetchone()[0]
        for name in ("page_count", "freelist_count", "page_size")
    )
    return int((pages - free) * size)


def _is_spoilt(error: sqlite3.Error) -> bool:
    code = getattr(error, "sqlite_errorcode", None)
    return code is None or code & 0xFF not in _NOT_ITS_FAULT
