"""The logs in which git notes where HEAD and each branch stood, line by line."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone

_LINE = re.compile(
    rb"(?P<old>[0-9a-f]{40}(?:[0-9a-f]{24})?) (?P<new>[0-9a-f]{40}(?:[0-9a-f]{24})?) "
    rb"[^<\n]*<[^>\n]*> (?P<second>\d{1,11}) (?P<zone>[+-]\d{4})(?:\t[^\n]*)?"
)


@dataclass(frozen=True)
class LogEntry:
    """One line of a log: the version before and after, None for none, and when."""

    line: bytes
    old: str | None
    new: str | None
    when: datetime | None


@dataclass(frozen=True)
class Log:
    """A log, oldest line first, and whether every line of its file could be read."""

    entries: tuple[LogEntry, ...] = ()
    is_sound: bool = True

    @property
    def newest(self) -> str | None:
        """Return the version the last line leads to."""
        return self.entries[-1].new if self.entries else None

    def before(self) -> Mapping[str, str]:
        """Return for each version the one that stood there before it was reached first."""
        found: dict[str, str] = {}
        for entry in self.entries:
            if entry.new and entry.old and entry.new != entry.old:
                found.setdefault(entry.new, entry.old)
        return found

    def dates(self) -> Mapping[str, datetime]:
        """Return when each version was first reached."""
        found: dict[str, datetime] = {}
        for entry in self.entries:
            if entry.new and entry.when:
                found.setdefault(entry.new, entry.when)
        return found


def read_log(content: bytes) -> Log:
    """Return what a log says; a line that cannot be read is left out."""
    is_sound = not content or content.endswith(b"\n")
    entries = []
    for line in content.split(b"\n"):
        if not line:
            continue
        found = _LINE.fullmatch(line)
        if found is None:
            is_sound = False
            continue
        entries.append(LogEntry(line, _id(found["old"]), _id(found["new"]), _when(found)))
    if content.startswith(b"\n") or b"\n\n" in content:
        is_sound = False
    return Log(tuple(entries), is_sound)


def log_text(entries: Iterable[LogEntry]) -> bytes:
    """Return the file of a log."""
    return b"".join(entry.line + b"\n" for entry in entries)


def _id(found: bytes) -> str | None:
    return found.decode() if found.strip(b"0") else None


def _when(found: "re.Match[bytes]") -> datetime | None:
    zone = found["zone"].decode()
    offset = timedelta(hours=int(zone[1:3]), minutes=int(zone[3:]))
    try:
        return datetime.fromtimestamp(
            int(found["second"]), timezone(-offset if zone[0] == "-" else offset)
        )
    except (ValueError, OverflowError, OSError):
        return None
