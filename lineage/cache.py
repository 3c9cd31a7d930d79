"""What was read and evaluated before, in one file that git ignores and anyone may delete.

Everything in it is keyed by the content it follows from, so nothing in it can be out of date.
"""

import os
import sqlite3
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any, Protocol

import msgspec

from geometry.draft import Draft
from geometry.errors import GeometryError
from lineage.program import program
from lineage.records import NodeRecord
from lineage.summary import Summary

FILE_NAME = ".trueup-cache"
_EVALUATED = "evaluated (key TEXT PRIMARY KEY, summary BLOB NOT NULL, draft BLOB)"
_NODES = "nodes (key TEXT PRIMARY KEY, node BLOB NOT NULL)"


class Cache(Protocol):
    """Where summaries and drafts are kept by the key of what went into them."""

    def summary(self, key: str) -> Summary | None:
        """Return what was kept under a key, None when nothing was."""

    def draft(self, key: str) -> Draft | None:
        """Return the geometry kept under a key, None when none was."""

    def keep(self, key: str, summary: Summary, draft: Draft | None) -> None:
        """Keep what a key evaluates to; the draft only where children will ask for it."""

    def nodes(self) -> Mapping[str, NodeRecord]:
        """Return the files that were read before, by the key of path and content."""

    def keep_node(self, key: str, node: NodeRecord) -> None:
        """Keep what a file says."""


class NoCache:
    """A cache that keeps nothing."""

    def summary(self, key: str) -> Summary | None:  # noqa: ARG002
        """Return None."""
        return None

    def draft(self, key: str) -> Draft | None:  # noqa: ARG002
        """Return None."""
        return None

    def keep(self, key: str, summary: Summary, draft: Draft | None) -> None:
        """Keep nothing."""

    def nodes(self) -> Mapping[str, NodeRecord]:
        """Return none."""
        return {}

    def keep_node(self, key: str, node: NodeRecord) -> None:
        """Keep nothing."""


def _to_plain(value: Any) -> Any:
    if isinstance(value, complex):
        return (value.real, value.imag)
    raise NotImplementedError(f"no plain form for {type(value)}")


def _from_plain(type_: Any, value: Any) -> Any:
    if type_ is complex:
        real, imag = value
        return complex(real, imag)
    raise NotImplementedError(f"no {type_} from a plain form")


class FileCache:
    """A cache in one SQLite file. A damaged or foreign file counts as empty, and is made anew."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / FILE_NAME
        self._encoder = msgspec.msgpack.Encoder(enc_hook=_to_plain)
        self._summaries = msgspec.msgpack.Decoder(Summary)
        self._draft_decoder = msgspec.msgpack.Decoder(Draft, dec_hook=_from_plain)
        self._node_decoder = msgspec.msgpack.Decoder(NodeRecord)
        self._kept: dict[str, tuple[bytes, bytes | None]] = {}
        self._kept_nodes: list[tuple[str, bytes]] = []
        self._database = self._opened()

    def _opened(self) -> sqlite3.Connection | None:
        for _ in range(2):
            if not self._is_ours():
                return None
            try:
                return self._connected()
            except sqlite3.DatabaseError as error:
                if "locked" in str(error):
                    return None
                with suppress(OSError):
                    self._path.unlink()
        return None

    def _connected(self) -> sqlite3.Connection:
        """Open the file with its tables, emptied if another state of the program wrote it.

        Raises sqlite3.DatabaseError for a file that is none of ours.
        """
        database = sqlite3.connect(self._path, timeout=1.0)
        ((written_by,),) = database.execute("PRAGMA user_version").fetchall()
        if written_by != program():
            with database:
                for table in ("evaluated", "nodes"):
                    database.execute(f"DROP TABLE IF EXISTS {table}")
                for columns in (_EVALUATED, _NODES):
                    database.execute(f"CREATE TABLE {columns} WITHOUT ROWID")
                database.execute(f"PRAGMA user_version = {program()}")
        database.execute("SELECT key, summary, draft FROM evaluated LIMIT 1").fetchone()
        database.execute("SELECT key, node FROM nodes LIMIT 1").fetchone()
        return database

    def _is_ours(self) -> bool:
        """Refuse links, through which a stranger's wardrobe would have us write elsewhere."""
        if os.path.lexists(self._path) and not self._path.is_file():
            return False
        beside = (self._path.with_name(FILE_NAME + end) for end in ("", "-journal", "-wal", "-shm"))
        return not any(place.is_symlink() for place in beside)

    def _row(self, key: str, column: str) -> bytes | None:
        if key in self._kept:
            return self._kept[key][column == "draft"]
        if self._database is None:
            return None
        try:
            row = self._database.execute(
                f"SELECT {column} FROM evaluated WHERE key = ?", (key,)
            ).fetchone()
        except sqlite3.DatabaseError:
            return None
        return row[0] if row and isinstance(row[0], bytes) else None

    def summary(self, key: str) -> Summary | None:
        """Return the summary kept under a key, None when there is none that can be read."""
        content = self._row(key, "summary")
        with suppress(msgspec.MsgspecError):
            return self._summaries.decode(content) if content else None
        return None

    def draft(self, key: str) -> Draft | None:
        """Return the draft kept under a key, None when there is none that can be read."""
        content = self._row(key, "draft")
        with suppress(msgspec.MsgspecError, GeometryError):
            return self._draft_decoder.decode(content) if content else None
        return None

    def keep(self, key: str, summary: Summary, draft: Draft | None) -> None:
        """Keep what a key evaluates to, for `flush` to write."""
        encoded = self._encoder.encode(draft) if draft is not None else None
        self._kept[key] = (self._encoder.encode(summary), encoded)

    def nodes(self) -> Mapping[str, NodeRecord]:
        """Return the files that were read before and can still be decoded."""
        found: dict[str, NodeRecord] = {}
        if self._database is None:
            return found
        with suppress(sqlite3.Error):
            for key, content in self._database.execute("SELECT key, node FROM nodes"):
                with suppress(msgspec.MsgspecError, TypeError):
                    found[key] = self._node_decoder.decode(content)
        return found

    def keep_node(self, key: str, node: NodeRecord) -> None:
        """Keep what a file says, unless something in it has no exact plain form."""
        content = self._encoder.encode(node)
        if self._node_decoder.decode(content) == node:
            self._kept_nodes.append((key, content))

    def flush(self) -> None:
        """Write what was kept; a cache that cannot be written is simply not written."""
        kept, self._kept = [(key, *row) for key, row in self._kept.items()], {}
        nodes, self._kept_nodes = self._kept_nodes, []
        if self._database is None or not (kept or nodes):
            return
        with suppress(sqlite3.Error), self._database:
            self._database.executemany("INSERT OR REPLACE INTO evaluated VALUES (?, ?, ?)", kept)
            self._database.executemany("INSERT OR REPLACE INTO nodes VALUES (?, ?)", nodes)

    def close(self) -> None:
        """Write what was kept and let the file go."""
        self.flush()
        if self._database is not None:
            self._database.close()
            self._database = None
