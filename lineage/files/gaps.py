"""What git could not give of versions that were asked for.

Whoever looks at an earlier version to set it beside the latest may well go on without it. So
what was missing is noted where it is read, and is told whoever went on without it.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from msgspec import Struct

from trueup.geometry.said import Said, parts
from trueup.lineage.errors import BadRecord, BeyondLimits, CannotRead, Damaged, MayNotRead
from trueup.lineage.errors.root import RESTORE, quoted, told

_LETTERS = 10  # of the id of a version


@dataclass(eq=False)
class NotGiven(BadRecord):
    """A file that was recorded and that git does not give; `version` where it is an earlier one."""

    version: str = ""

    @property
    def says(self) -> Said:
        """Return which file of which version, the reason, and what helps."""
        when = f" as of {quoted(self.version[:_LETTERS])}" if self.version else ""
        named = f"{quoted(self.place)}{when} cannot be read: "
        return parts(named, told(self.reason), f"; {RESTORE}")


def not_given(path: str, version: str, error: Damaged) -> BadRecord:
    """Return why git does not give what a file holds in a version, an earlier one where named."""
    if isinstance(error, CannotRead):
        return MayNotRead(path, error.reason, closed=error.place)
    if isinstance(error, BeyondLimits):
        return BadRecord(path, error.reason)
    return NotGiven(path, error.reason, version=version)


class VersionGap(Struct, frozen=True):
    """Something that git could not give: a file, or all of the version where `path` is empty."""

    version: str
    path: str
    error: Damaged

    @property
    def cause(self) -> Damaged:
        """Return what there is to say where nothing can be answered for it."""
        return not_given(self.path, self.version, self.error) if self.path else self.error


class Gaps:
    """The gaps that were met while a wardrobe is open, each told of once."""

    def __init__(self) -> None:
        self._found: dict[tuple[str, str], VersionGap] = {}

    def __iter__(self) -> Iterator[VersionGap]:
        return iter(self._found.values())

    def note(self, version: str, path: str, content: str, error: Damaged) -> None:
        """Note that git does not give a content, which a file has in a version.

        What is more than is ever read is none: it is there.
        """
        if not isinstance(error, BeyondLimits):
            self._found.setdefault((path, content), VersionGap(version, path, error))

    def add(self, others: tuple[VersionGap, ...]) -> None:
        """Note what another process met; the same version of a file is told of once."""
        for each in others:
            if not any((each.path, str(each.error)) == (g.path, str(g.error)) for g in self):
                self._found[each.path, f"{each.version}: {each.error}"] = each

    @contextmanager
    def noted(self, version: str) -> Iterator[None]:
        """Note a version of which nothing can be read, and let the error go on."""
        try:
            yield
        except BadRecord:
            raise  # a file of it says something else than it should, or was noted by itself
        except Damaged as error:
            self.note(version, "", version, error)
            raise
