"""What is wrong with a wardrobe, and what helps, as values: whoever tells them words them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from pathlib import Path

from trueup.geometry.said import Said
from trueup.lineage.errors import WardrobeError


class Wrong(StrEnum):
    """What is wrong at a place; everything but the last lies in git's folder."""

    NOT_PLAIN = "not-plain"  # a link, a pipe, a folder where a file belongs or the reverse
    FOLDER = "folder"  # one of git's folders is missing
    CLOSED = "closed"  # it may not be read, or not be written
    LOCK = "lock"  # a lock file that a killed git left
    LITTER = "litter"  # what a killed git was writing
    HEAD = "head"  # it does not say on which branch the wardrobe stands
    BRANCH = "branch"  # it names no version that can be read
    NAME = "name"  # a tag, or a branch of another clone, that names nothing that can be read
    NAMES = "names"  # the file of packed names
    LOG = "log"  # the log of where a branch stood
    SETTINGS = "settings"  # git's own settings for this wardrobe
    INDEX = "index"  # git's list of the files
    CUTS = "cuts"  # the file that says where the history begins
    STEP = "step"  # the line that says that a step is on its way
    MERGE = "merge"  # what git keeps of a merge it began
    OBJECT = "object"  # something stored that is not what it was
    LACKING = "lacking"  # something stored that was missing
    PACK = "pack"  # many things stored in one file
    DERIVED = "derived"  # what git keeps to be quick, and makes anew
    VERSION = "version"  # steps that are lost
    HISTORY = "history"  # a step in the middle is lost: the history is cut there
    CONTENT = "content"  # what an earlier version needs, and is nowhere
    EMPTY = "empty"  # no version is left
    FILE = "file"  # a working file that cannot be read
    GONE = "gone"  # a working file that is missing
    NAMED = "named"  # a working file that the maker named
    RECORD = "record"  # a file that cannot be read as it was recorded
    REFUSED = "refused"  # the wardrobe cannot be opened for another reason


class Cure(StrEnum):
    """What puts it right."""

    ASIDE = "aside"  # moved aside: nothing needs it
    ANEW = "anew"  # written anew
    FROM_LOG = "from-log"
    FROM_HISTORY = "from-history"
    FROM_FILES = "from-files"  # derived from what lies in the working files
    FROM_INDEX = "from-index"
    FROM_VERSIONS = "from-versions"  # derived from the versions before and after
    FROM_PACK = "from-pack"  # what is whole in a damaged pack
    FROM_CLONE = "from-clone"
    TAKEN_AWAY = "taken-away"
    ALLOWED = "allowed"
    FINISHED = "finished"
    GIVEN_UP = "given-up"  # it is lost, and what is left is whole without it


class Help(StrEnum):
    """What the maker can do where nothing here puts it right."""

    CLONE = "clone"
    WAIT = "wait"
    BY_HAND = "by-hand"
    NEWER = "newer"
    ALLOW = "allow"


@dataclass(frozen=True)
class KnownVersion:
    """A version as far as it is known: its commit, when it was made, and its first line."""

    id: str
    when: datetime | None = None
    subject: str = ""


@dataclass(frozen=True)
class Trouble:
    """Something that is wrong at a place, and its cure; without one, what helps.

    `place` is a path in the wardrobe, or a name; `count` says how many such things are told as one.
    `reason` says why a file cannot be read, `version` from which version it comes back (or is
    needed by), `lost` which steps are no longer there, `error` what keeps the wardrobe from being
    opened.
    """

    wrong: Wrong
    place: str
    cure: Cure | None = None
    help: Help | None = None
    reason: Said | str = ""
    version: KnownVersion | None = None
    lost: Sequence[KnownVersion] = ()
    count: int = 1
    error: WardrobeError | None = None


@dataclass(frozen=True)
class Restored:
    """What was found, what of it is still so, and where the old was moved.

    `edited` are files that differ from the last step and can be read: the maker's own, left alone.
    `commit` is the step that was recorded, `stopped` what kept the rest from being carried out.
    """

    findings: tuple[Trouble, ...] = ()
    remaining: tuple[Trouble, ...] = ()
    aside: Path | None = None
    commit: str | None = None
    edited: tuple[str, ...] = ()
    stopped: WardrobeError | None = None

    @property
    def is_whole(self) -> bool:
        """Return whether nothing is wrong any more."""
        return not self.remaining and self.stopped is None
