"""Look over the files the maker sees, and plan which are put back; edits by hand are left alone."""

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from trueup.geometry.said import Said
from trueup.lineage.errors import BadRecord, NoSuchFile
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.restoring.acts import Act, Allow, Aside, PutBack
from trueup.lineage.restoring.findings import Cure, Help, Trouble, Wrong
from trueup.lineage.restoring.working import readable
from trueup.lineage.restoring.working.lying import Lying, lying_at, owned_in
from trueup.lineage.restoring.working.readable import Beside, Newer, Record
from trueup.lineage.restoring.working.versions import Source, content_of, latest_readable
from trueup.lineage.store.files.paths import FIRST_FILES, FOLDERS, is_owned
from trueup.lineage.store.files.working_files import blob_id
from trueup.lineage.store.git.objects import differences, list_tree, look_up
from trueup.lineage.store.git.quiet_git import QuietGit


@dataclass(frozen=True)
class FilesPlan:
    """What is wrong with the working files and what is to be done.

    `record` are the versions that are to be recorded anew, as the latest; `edited` the files that
    were edited by hand and can be read.
    """

    findings: tuple[Trouble, ...] = ()
    acts: tuple[Act, ...] = ()
    record: tuple[Source, ...] = ()
    edited: tuple[str, ...] = ()


class FilesLook:
    """One look over the working files of a wardrobe that stands at the commit `tip`."""

    def __init__(self, folder: Path, git: QuietGit, tip: str) -> None:
        self._folder = folder
        self._git = git
        self._tip = tip
        listed = list_tree(git, tip)
        self._recorded = {p: b for p, b in listed.items() if is_owned(p) or p in FIRST_FILES}
        self._links = frozenset(listed.links)
        self._findings: list[Trouble] = []
        self._acts: list[Act] = []
        self._record: list[Source] = []
        self._edited: list[str] = []
        self._beside = Beside()
        self._moved: set[str] = set()

    def over_all(self) -> FilesPlan:
        """Look over all."""
        for name in FOLDERS:
            self._clear_folder(name)
        on_disk = set(owned_in(self._folder))
        paths = sorted({*self._recorded, *self._links, *on_disk})
        records = self._records([path for path in paths if readable.is_record(path)])
        self._beside = readable.beside(records.values())
        self._look_at([path for path in paths if not readable.is_record(path)])
        self._look_for_parents(records)
        for path in sorted(self._beside.needed - set(paths)):
            self._bring_again([path])
        return self._plan()

    def behind(self) -> FilesPlan:
        """Bring the files to the latest step that are exactly as they were before it.

        For where it can no longer be read that this step was on its way.
        """
        (parent,) = look_up(self._git, [f"{self._tip}~1^{{commit}}"])
        found = differences(self._git, parent.id, self._tip) if parent else {}
        for path, change in found.items():
            content = lying_at(self._folder, path).content
            if content is None or change.before is None or not is_owned(path):
                continue
            if blob_id(content, change.before) == change.before:
                self._findings.append(Trouble(Wrong.FILE, path, Cure.FINISHED))
                self._clear(path)
                if change.after is not None:
                    self._acts.append(PutBack(path, change.after))
        return self._plan()

    def at(self, paths: Iterable[str]) -> FilesPlan:
        """Put the last version of some files back, whatever is there; raises NoSuchFile."""
        for path in dict.fromkeys(paths):
            self._beside = _as_called(path)
            source = self._source(path) or self._any_version(path)
            if source is None:
                raise NoSuchFile(path)
            lying = lying_at(self._folder, path)
            if self._recorded.get(path) == source.blob and self._is_as_recorded(path, lying):
                continue
            self._put_back(Wrong.NAMED, path, lying, source)
        return self._plan()

    def _plan(self) -> FilesPlan:
        return FilesPlan(
            tuple(self._findings), tuple(self._acts), tuple(self._record), tuple(self._edited)
        )

    # --- each file --------------------------------------------------------------------------------

    def _records(self, paths: Iterable[str]) -> dict[str, Record]:
        """Look at the records, and return what each says or will say."""
        records: dict[str, Record] = {}
        for path, blob in self._look_at(paths):
            content = lying_at(self._folder, path).content if blob is None else self._stored(blob)
            try:
                records[path] = readable.record_in(path, content or b"")
            except BadRecord:
                continue
        return records

    def _stored(self, blob: str) -> bytes | None:
        return content_of(self._git, blob)

    def _look_at(self, paths: Iterable[str]) -> list[tuple[str, str | None]]:
        """Look at files; return each that can be read, with its content where that is put back."""
        fine: list[tuple[str, str | None]] = []
        for path in paths:
            lying = lying_at(self._folder, path)
            if lying.is_closed:
                self._findings.append(Trouble(Wrong.CLOSED, path, Cure.ALLOWED))
                self._acts.append(Allow(path))
                continue
            try:
                reason = self._reason(path, lying)
            except Newer:
                self._findings.append(Trouble(Wrong.FILE, path, help=Help.NEWER))
                continue
            if reason is None:
                fine.append((path, None))
                if not self._is_as_recorded(path, lying):
                    self._edited.append(path)
            elif (source := self._source(path)) is not None:
                self._put_back(self._wrong(path, lying), path, lying, source, reason)
                fine.append((path, source.blob))
            else:
                self._give_up(path, lying, reason)
        return fine

    def _reason(self, path: str, lying: Lying) -> Said | str | None:
        """Return why a file is to be put back; None for one that can be read."""
        if lying.content is not None:
            return self._why_unreadable(path, lying.content)
        return "it is larger than any file of a wardrobe" if lying.is_too_large else ""

    def _is_as_recorded(self, path: str, lying: Lying) -> bool:
        recorded = self._recorded.get(path)
        return (
            recorded is not None
            and lying.content is not None
            and blob_id(lying.content, recorded) == recorded
        )

    def _wrong(self, path: str, lying: Lying) -> Wrong:
        if lying.obstacle == path:
            return Wrong.NOT_PLAIN
        if lying.content is None and not lying.is_too_large:
            return Wrong.GONE
        return Wrong.RECORD if self._is_as_recorded(path, lying) else Wrong.FILE

    def _why_unreadable(self, path: str, content: bytes) -> Said | str | None:
        if readable.is_record(path):
            return readable.why_unreadable(path, content)
        recorded = self._recorded.get(path)
        if recorded and not content.strip(b"\0") and blob_id(content, recorded) != recorded:
            return "it holds nothing"
        return self._beside.why_unreadable(path, content)

    def _is_readable(self, path: str, content: bytes) -> bool:
        try:
            return self._why_unreadable(path, content) is None
        except Newer:
            return False

    # --- what is put back -------------------------------------------------------------------------

    def _source(self, path: str) -> Source | None:
        """Return the last version of a file that can be read: as recorded last, or before."""
        recorded = self._recorded.get(path)
        if recorded is not None:
            content = self._stored(recorded)
            if content is not None and self._is_readable(path, content):
                return Source(path, recorded, None)
        return latest_readable(self._git, self._tip, [path], self._is_readable)

    def _any_version(self, path: str) -> Source | None:
        return latest_readable(self._git, self._tip, [path], lambda _path, _content: True)

    def _put_back(
        self, wrong: Wrong, path: str, lying: Lying, source: Source, reason: Said | str = ""
    ) -> None:
        finding = Trouble(wrong, path, Cure.FROM_HISTORY, reason=reason, version=source.version)
        self._findings.append(finding)
        self._clear(lying.obstacle or path)
        self._acts.append(PutBack(path, source.blob))
        if source.version is not None:
            self._record.append(source)

    def _clear(self, place: str) -> None:
        if place not in self._moved:
            self._moved.add(place)
            self._acts.append(Aside(place))

    def _clear_folder(self, name: str) -> None:
        """Move aside what stands where a folder of the wardrobe should, and is none."""
        if os.path.lexists(self._folder / name) and lying_at(self._folder, f"{name}/x").obstacle:
            self._findings.append(Trouble(Wrong.NOT_PLAIN, name, Cure.ASIDE))
            self._clear(name)

    def _give_up(self, path: str, lying: Lying, reason: Said | str) -> None:
        if lying.obstacle and path not in self._recorded:
            self._findings.append(Trouble(Wrong.NOT_PLAIN, path, Cure.ASIDE))
            self._clear(lying.obstacle)
        else:
            wrong = self._wrong(path, lying)
            self._findings.append(Trouble(wrong, path, help=Help.BY_HAND, reason=reason))

    def _bring_again(self, paths: list[str]) -> None:
        """Bring back a file that others need and that is in no folder, by one of its names."""
        source = latest_readable(self._git, self._tip, paths, self._is_readable)
        if source is not None:
            self._put_back(Wrong.GONE, source.path, lying_at(self._folder, source.path), source)
        else:
            self._findings.append(Trouble(Wrong.GONE, paths[0], help=Help.BY_HAND))

    def _look_for_parents(self, records: Mapping[str, Record]) -> None:
        nodes = {each.name for each in records.values() if isinstance(each, NodeRecord)}
        for each in list(records.values()):
            for parent in each.followed if isinstance(each, NodeRecord) else ():
                paths = [f"blocks/{parent.name}.toml", f"patterns/{parent.name}.toml"]
                if parent.name not in nodes and not any(p in self._told for p in paths):
                    nodes.add(parent.name)
                    self._bring_again(paths)

    @property
    def _told(self) -> set[str]:
        return {finding.place for finding in self._findings}


def _as_called(path: str) -> Beside:
    """Return what a file other than a record is, by its name alone."""
    one = frozenset((path,))
    folder, _, name = path.partition("/")
    if folder == "photos":
        return Beside(photos=one)
    if not name.endswith(".svg"):
        return Beside()
    return Beside(outlines=one) if folder == "garments" else Beside(drawings=one)
