"""The cache of one wardrobe: summaries, drafts and files that were read, as rows of one file."""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from trueup.geometry.errors import GeometryError
from trueup.lineage.evaluation.cache.private_folder import file_of, private_folder, secret_of
from trueup.lineage.evaluation.cache.program import program_here
from trueup.lineage.evaluation.cache.sealed_rows import Row, SealedRows, key_from
from trueup.lineage.evaluation.plain import read_draft, read_summary, to_bytes
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.files.kept.wardrobe import KeptWardrobe
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.store.files.lying import Looks

if TYPE_CHECKING:
    from trueup.geometry.pieces.draft import Draft

SUMMARY = "summary"
DRAFT = "draft"
NODE = "node"
LOOKS = "looks"
WARDROBE = "wardrobe"

_MOST_WAITING = 8_000_000
"""Bytes that wait to be written: ten thousand patterns would fill the memory."""


def cache_file(wardrobe: Path) -> tuple[Path, bytes] | None:
    """Return the file for a wardrobe under the user's cache folder, and the key to its rows.

    None where there is no folder that is the user's alone, or the program cannot tell its state.
    """
    folder, this_program = private_folder(wardrobe), program_here()
    secret = secret_of(folder) if folder else None
    if folder is None or secret is None or this_program is None:
        return None
    return file_of(folder, wardrobe), key_from(secret, this_program)


class FileCache:
    """The cache of the wardrobe in a folder; without a place to keep it, it is only slower."""

    def __init__(self, wardrobe: Path) -> None:
        self._nodes = msgspec.msgpack.Decoder(NodeRecord)
        self._kept: dict[tuple[str, str], bytes] = {}
        self._waiting = 0
        self._is_let_go = False
        self._looks: Looks = {}
        place = cache_file(wardrobe)
        self._rows = SealedRows(*place) if place else None

    def _content(self, kind: str, key: str) -> bytes | None:
        if (kind, key) in self._kept:
            return self._kept[kind, key]
        return self._rows.read(kind, [key]).get(key) if self._rows else None

    def summary(self, key: str) -> Summary | None:
        """Return the summary kept under a key, None when there is none that can be read."""
        content = self._content(SUMMARY, key)
        with suppress(msgspec.MsgspecError):
            return read_summary(content) if content else None
        return None

    def draft(self, key: str) -> "Draft | None":
        """Return the draft kept under a key, None when there is none that can be read."""
        content = self._content(DRAFT, key)
        with suppress(msgspec.MsgspecError, GeometryError):
            return read_draft(content) if content else None
        return None

    def keep(self, key: str, summary: Summary, draft: "Draft | None") -> None:
        """Keep what a key evaluates to, for `flush` to write; where much waits, it is written."""
        self._keep(SUMMARY, key, to_bytes(summary))
        if draft is not None:
            self._keep(DRAFT, key, to_bytes(draft))

    def _keep(self, kind: str, key: str, content: bytes) -> None:
        self._kept[kind, key] = content
        self._waiting += len(content)
        if self._rows and self._waiting > _MOST_WAITING:
            self.flush()

    def nodes(self, keys: Iterable[str]) -> Mapping[str, NodeRecord]:
        """Return those of these files that were read before and can still be decoded."""
        wanted, found = list(keys), {}
        contents = {key: self._kept[NODE, key] for key in wanted if (NODE, key) in self._kept}
        if self._rows:
            if self._is_let_go:  # who shows nodes may ask for them when the wardrobe is closed
                self.take_up()
            contents |= self._rows.read(NODE, (key for key in wanted if key not in contents))
        for key, content in contents.items():
            with suppress(msgspec.MsgspecError, TypeError):
                found[key] = self._nodes.decode(content)
        return found

    def keep_node(self, key: str, node: NodeRecord) -> None:
        """Keep what a file says, unless something in it has no exact plain form."""
        content = to_bytes(node)
        if self._nodes.decode(content) == node:
            self._keep(NODE, key, content)

    def wardrobe(self) -> KeptWardrobe | None:
        """Return the wardrobe as it was read last, None when that was not kept."""
        content = self._content(WARDROBE, "")
        with suppress(msgspec.MsgspecError):
            return msgspec.msgpack.decode(content, type=KeptWardrobe) if content else None
        return None

    def keep_wardrobe(self, wardrobe: KeptWardrobe) -> None:
        """Keep the wardrobe as it was read, unless something in it has no exact plain form."""
        content = to_bytes(wardrobe)
        if msgspec.msgpack.decode(content, type=KeptWardrobe) == wardrobe:
            self._keep(WARDROBE, "", content)

    def looks(self) -> Looks:
        """Return how the working files looked when they were read last, none where that is lost."""
        content = self._content(LOOKS, "")
        with suppress(msgspec.MsgspecError):
            self._looks = msgspec.msgpack.decode(content, type=Looks) if content else {}
        return dict(self._looks)

    def keep_looks(self, looks: Looks) -> None:
        """Keep how the working files look now, where that is not as it was found."""
        if looks != self._looks:
            with suppress(UnicodeEncodeError):  # a name that is no text
                self._keep(LOOKS, "", to_bytes(looks))

    def flush(self) -> None:
        """Write what was kept; a cache that cannot be written is simply not written."""
        rows: list[Row] = [(kind, key, content) for (kind, key), content in self._kept.items()]
        self._kept, self._waiting = {}, 0
        if self._rows:
            self._rows.write(rows)

    def close(self) -> None:
        """Write what was kept and let the file go."""
        self._is_let_go = True
        self.flush()
        if self._rows:
            self._rows.close()

    def take_up(self) -> None:
        """Take the file up again after it was let go."""
        self._is_let_go = False
        if self._rows:
            self._rows.open()
