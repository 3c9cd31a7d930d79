"""Hold edits by hand against what was recorded: joined with it, or refused."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from trueup.geometry.units import Unit
from trueup.lineage.errors import Damaged, WardrobeError
from trueup.lineage.files.garment_files import is_garment_file
from trueup.lineage.files.reading import read_settings
from trueup.lineage.hand_edits.cut_cloth import CutCloth
from trueup.lineage.hand_edits.errors import OpenedEarlier
from trueup.lineage.hand_edits.joined import Texts, joined, read_record
from trueup.lineage.hand_edits.named import Named, named_apart, recorded
from trueup.lineage.hand_edits.opened_from import FileVersion, opened_from
from trueup.lineage.hand_edits.paths import SETTINGS_FILE, Edits, is_of_record, is_read
from trueup.lineage.hand_edits.said import ABSENT, said_by
from trueup.lineage.store import Store
from trueup.lineage.trail import EDIT, VERB

MOST_STEPS_BACK = 100
"""So many steps on the files edited may have been recorded since an editor was opened."""

MOST_READ_BACK = 32_000_000
"""Bytes of the versions of one file that are looked through; a hundred usual ones are a tenth."""

_AT_ONCE = 10


def reviewed(
    store: Store, head: str, written: Edits, asked: Collection[str]
) -> tuple[Edits, Mapping[str, tuple[Named, ...]], Mapping[str, WardrobeError]]:
    """Return edits over a commit as they are to be taken, what each was joined with, and refusals.

    Those `asked` for are taken as they are written.
    """
    looking = _Looking(store, head, written)
    contents = dict(written)
    since: dict[str, tuple[Named, ...]] = {}
    refused: dict[str, WardrobeError] = {}
    for path, edited in looking.doubtful.items():
        if path in asked:
            continue
        try:
            content = looking.joined(path, edited)
        except OpenedEarlier as error:
            refused[path] = error
            continue
        if content != edited:
            contents[path] = content
            since[path] = looking.kept(path, edited, content)
    refused |= CutCloth(looking.listing, looking.recorded, contents, asked).changed()
    taken = {path: content for path, content in contents.items() if path not in refused}
    return taken, since, refused


@dataclass(frozen=True)
class _Looking:
    """Edits by hand under review."""

    store: Store
    head: str
    written: Edits

    @cached_property
    def listing(self) -> Mapping[str, str]:
        return self.store.listing(self.head)

    @cached_property
    def recorded(self) -> Mapping[str, bytes]:
        """What the edited files hold as recorded; all garments too where edits touch cut cloth.

        What is of no record is not read where it is deleted: there may be a lot of it.
        """
        there = self.written.keys() & self.listing.keys()
        wanted = {path for path in there if is_read(path) or self.written[path] is not None}
        if any(path.startswith(("garments/", "photos/")) for path in there):
            wanted |= {path for path in self.listing if is_garment_file(path)}
        return _readable(self.store, {path: self.listing[path] for path in sorted(wanted)})

    @cached_property
    def doubtful(self) -> Mapping[str, bytes]:
        """The files that lack something recorded, or say it otherwise, as they were edited."""
        return {
            path: content
            for path, content in self.written.items()
            if content is not None
            and path in self.recorded
            and is_of_record(path)
            and _takes_back(path, self.recorded[path], content)
        }

    def joined(self, path: str, edited: bytes) -> bytes:
        """Return an edited file with what was recorded since it was opened.

        Raises OpenedEarlier where that cannot be known, or cannot be done.
        """
        now, (versions, is_whole) = self.recorded[path], self._versions(path)
        opened = opened_from(edited, versions)
        if opened is versions[0] or opened.content is None:
            return edited
        if opened is versions[-1] and not is_whole:
            raise self._refusal(path, edited, "old")
        texts = Texts(path, opened.content, edited, now)
        found = joined(texts, self.store.merged_text, self._unit)
        if found is None:
            raise self._refusal(path, edited, "contradict")
        if said_by(found) == said_by(now) and recorded(path, found) == recorded(path, now):
            raise self._refusal(path, edited, "nothing")
        return found

    def kept(self, path: str, edited: bytes, content: bytes) -> tuple[Named, ...]:
        """Return what an edited file did not know of, or not so, and holds joined."""
        lacking = named_apart(path, self.recorded[path], edited)
        out = named_apart(path, self.recorded[path], content)
        every = (*lacking.missing, *lacking.otherwise)
        return tuple(each for each in every if each not in (*out.missing, *out.otherwise))

    def _refusal(
        self, path: str, edited: bytes, why: Literal["nothing", "contradict", "old"]
    ) -> OpenedEarlier:
        apart = named_apart(path, self.recorded[path], edited)
        return OpenedEarlier(path, apart.missing, apart.otherwise, why)

    @cached_property
    def _steps(self) -> Sequence[tuple[bool, Mapping[str, str]]]:
        """The latest steps on the files in doubt: whether made by hand, and what they left."""
        steps = self.store.past(self.head, tuple(self.doubtful), MOST_STEPS_BACK)
        return [(commit.trailers.get(VERB, EDIT) == EDIT, left) for commit, left in steps]

    def _versions(self, path: str) -> tuple[list[FileVersion], bool]:
        """Return the latest versions of a file, newest first, and whether these are all."""
        versions = [FileVersion(self.recorded[path], bool(self._steps and self._steps[0][0]))]
        read = 0
        for start in range(0, len(self._steps), _AT_ONCE):
            some = self._steps[start : start + _AT_ONCE]
            texts = _readable(self.store, {b: b for _, left in some if (b := left.get(path))})
            read += sum(map(len, texts.values()))
            if read > MOST_READ_BACK:
                return versions, False
            for by_hand, left in some:
                if path not in left or left[path] in texts:
                    versions.append(FileVersion(texts.get(left.get(path, "")), by_hand))
        return versions, len(self._steps) < MOST_STEPS_BACK

    @cached_property
    def _unit(self) -> Unit:
        settings = _readable(self.store, {SETTINGS_FILE: self.listing.get(SETTINGS_FILE, "")})
        try:
            return Unit(read_settings(SETTINGS_FILE, settings[SETTINGS_FILE]).unit)
        except (KeyError, Damaged):
            return Unit.MILLIMETRE


def _takes_back(path: str, now: bytes, edited: bytes) -> bool:
    """Return whether an edit lacks something recorded; one that cannot be read lacks nothing."""
    try:
        read_record(path, edited)
    except Damaged:
        return False
    here, there = said_by(edited) or {}, said_by(now) or {}
    return any(here.get(item, ABSENT) != value for item, value in there.items())


def _readable(store: Store, blobs: Mapping[str, str]) -> dict[str, bytes]:
    """Return contents by the names given them, without those git cannot give."""
    try:
        contents = store.read(blobs.values())
    except Damaged:
        if len(blobs) <= 1:
            return {}
        each = ({name: blob} for name, blob in blobs.items())
        return {name: text for one in each for name, text in _readable(store, one).items()}
    return {name: contents[blob] for name, blob in blobs.items()}
