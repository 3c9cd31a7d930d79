"""Which edits by hand change a fact: cloth that was cut, and what was seen on it.

What a garment was cut from, when and with which allowances, the outline it was cut by and a photo
that a fit note refers to are facts. An edit that changes or removes one has to be asked for.
Mending one that cannot be read is none; nor is giving a garment another name.
"""

from collections.abc import Collection, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cached_property

from trueup.lineage.drawings.outline import read_outline
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.garment_errors import BadPhoto
from trueup.lineage.files.garment_files import is_garment_file, read_garment
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.pictures import require_picture
from trueup.lineage.hand_edits.errors import CutClothEdited
from trueup.lineage.hand_edits.paths import Edits

_FACTS = {
    "pattern": "the pattern it was cut from",
    "cut_from": "the version it was cut from",
    "cut_on": "the day it was cut",
    "allowances": "its allowances",
    "altered_to": "the version it was altered to",
    "lacking": "the cloth it lacked when it was altered",
}


@dataclass(frozen=True)
class CutCloth:
    """What is recorded of cut cloth, and what edits by hand make of it; `asked` may change.

    `there` are the names of the files as the last step left them, `recorded` what is in those of
    the garments and in those that were edited.
    """

    there: Collection[str]
    recorded: Mapping[str, bytes]
    edits: Edits
    asked: Collection[str] = ()

    def changed(self) -> dict[str, CutClothEdited]:
        """Return why edits are not taken up, by their files."""
        return {each.path: each for each in self._changed()}

    def _changed(self) -> Iterator[CutClothEdited]:
        for path in filter(is_garment_file, self.recorded):
            yield from self._of_garment(path)

    def _of_garment(self, path: str) -> Iterator[CutClothEdited]:
        was = _garment(path, self.recorded[path])
        if path in self.edits:
            content = self.edits[path]
            if content is None and (path in self.asked or self._has_another_name(was)):
                return
            if path not in self.asked:
                what = "is deleted" if content is None else _differing(path, was, content)
                if what:
                    yield CutClothEdited(path, what)
        stem = path.removesuffix(".toml")
        outlines = was.outline_paths if was else (f"{stem}.svg", f"{stem}.altered.svg")
        for outline in outlines:
            if self._is_edited(outline) and self._is_other_cloth(outline):
                yield CutClothEdited(outline, self._how(outline))
        for note in was.notes if was else ():
            if note.photo and self._is_edited(note.photo) and not self._mends(note.photo):
                yield CutClothEdited(note.photo, self._how(note.photo))

    def _is_edited(self, path: str) -> bool:
        return path in self.edits and path in self.there and path not in self.asked

    def _mends(self, photo: str) -> bool:
        """Return whether a photo takes the place of one that cannot be looked at."""
        return self.edits[photo] is not None and not _is_picture(self.recorded.get(photo, b""))

    def _how(self, path: str) -> str:
        return "is deleted" if self.edits[path] is None else "was changed by hand"

    def _is_other_cloth(self, path: str) -> bool:
        try:
            cut = read_outline(self.recorded.get(path, b""), path)
        except BadRecord:
            return False
        content = self.edits[path]
        if content is not None:
            with suppress(BadRecord):
                return read_outline(content, path) != cut
        return True

    def _has_another_name(self, was: GarmentRecord | None) -> bool:
        """Return whether a garment that is gone is there, cloth and all, under a new name."""
        if was is None:
            return False
        cloth = [self.recorded.get(each) for each in was.outline_paths]
        return None not in cloth and any(
            _facts(garment) == _facts(was)
            and [self.edits.get(each) for each in garment.outline_paths] == cloth
            for garment in self._new
        )

    @cached_property
    def _new(self) -> tuple[GarmentRecord, ...]:
        added = (
            _garment(path, content)
            for path, content in self.edits.items()
            if content is not None and is_garment_file(path) and path not in self.there
        )
        return tuple(each for each in added if each is not None)


def _garment(path: str, content: bytes) -> GarmentRecord | None:
    with suppress(BadRecord):
        return read_garment(path, content)
    return None


def _facts(garment: GarmentRecord) -> dict[str, object]:
    return {name: getattr(garment, name) for name in _FACTS}


def _differing(path: str, was: GarmentRecord | None, content: bytes) -> str:
    """Return what an edited garment says otherwise of its cloth; nothing where it is damaged."""
    now = _garment(path, content)
    if was is None or now is None:
        return ""
    differ = [says for name, says in _FACTS.items() if getattr(was, name) != getattr(now, name)]
    return f"says otherwise by hand of {' and '.join(differ)}" if differ else ""


def _is_picture(content: bytes) -> bool:
    try:
        require_picture("", content)
    except BadPhoto:
        return False
    return True
