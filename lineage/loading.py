"""Read all nodes of a wardrobe, as of any commit or with the maker's unrecorded edits.

What cannot be read hides nothing else: it is told of in the state. Only settings that cannot be
read are an error of the whole.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import TypeVar

from trueup.lineage.errors import BadRecord, Damaged
from trueup.lineage.evaluation.cache import Cache, NoCache
from trueup.lineage.files.bodies.reading import is_body_file, read_body
from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.gaps import Gaps, not_given
from trueup.lineage.files.garment_files import is_garment_file, read_garment
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.reading import is_node_file, read_node, read_settings
from trueup.lineage.files.records import NodeRecord, Settings, TracedDraft, replace
from trueup.lineage.files.state import State
from trueup.lineage.files.unreadable import sift
from trueup.lineage.last_loaded import Content, LastLoaded
from trueup.lineage.limits import LARGEST_DRAWING, LARGEST_READING, LARGEST_RECORD
from trueup.lineage.store import Store
from trueup.lineage.store.files.working_files import blob_id
from trueup.lineage.store.git.objects import Listing

SETTINGS_FILE = "wardrobe.toml"

MOST_BROKEN = 100
"""So many contents that git cannot give are told of one by one; more are damage of the whole."""

_Named = TypeVar("_Named", GarmentRecord, BodyRecord)

_NO_EDITS: Mapping[str, Content] = MappingProxyType({})


@dataclass
class Loader:
    """Reads states from a store; a file that was read once, in any version, is not read again.

    `gaps` are told of what git could not give.
    """

    store: Store
    cache: Cache = field(default_factory=NoCache)
    gaps: Gaps = field(default_factory=Gaps)
    _earlier: str = ""
    _nodes: dict[str, NodeRecord] = field(default_factory=dict)
    _forged: set[str] = field(default_factory=set)

    @cached_property
    def last(self) -> LastLoaded:
        """The wardrobe as it was read last."""
        return LastLoaded(self.cache, self.nodes_of)

    def latest(self, revision: str, edits: Mapping[str, Content] = _NO_EDITS) -> State:
        """Do as `at`, and keep the wardrobe as it was read for who reads it next."""
        state = self._at(revision, edits)
        if not edits and not self._forged:
            self.last.keep(self.store.listing(revision), state)
        return state

    def at(self, revision: str, edits: Mapping[str, Content] = _NO_EDITS) -> State:
        """Return the wardrobe as of a revision, files edited by hand put over it.

        A file that was edited, or deleted (None), is not read as it was; only where the settings
        cannot be read, those of the revision stand in. Raises BadRecord for a revision whose own
        settings cannot be read, Damaged where hardly anything can.
        """
        self._earlier = revision
        try:
            return self._at(revision, edits)
        finally:
            self._earlier = ""

    def _at(self, revision: str, edits: Mapping[str, Content]) -> State:
        recorded = self.store.listing(revision)
        return self.last.state(recorded, edits) or self._read(recorded, edits)

    def _read(self, recorded: Listing, edits: Mapping[str, Content]) -> State:
        listing = {path: blob for path, blob in recorded.items() if path not in edits}
        given: dict[str, Content] = {
            path: BadRecord(path, "it is recorded as a link and not as a file")
            for path in recorded.links
        }
        given |= edits
        files = {path: f"{path}@{blob}" for path, blob in listing.items() if is_node_file(path)}
        beside = [path for path in listing if is_garment_file(path) or is_body_file(path)]
        unknown = self._unknown(files)
        found = self._contents(listing, {SETTINGS_FILE, *unknown, *beside} - edits.keys())
        unreadable: dict[str, Damaged] = {}
        settings = self._settings({**found, **given}, recorded, unreadable)
        self._take_in(found, files, listing, unreadable)
        nodes = [self._nodes[key] for key in files.values() if key in self._nodes]
        nodes += _nodes(given, unreadable).values()
        nodes = self._with_drawings(nodes, listing, given, unreadable)
        contents = {**found, **given}
        cut, bodies = _garments(contents, unreadable), _bodies(contents, unreadable)
        return _state(settings, nodes, cut, bodies, unreadable)

    def _unknown(self, files: Mapping[str, str]) -> list[str]:
        """Return the paths of nodes, given with their keys, that were never read."""
        wanted = (key for key in files.values() if key not in self._nodes)
        self._nodes.update(self.cache.nodes(wanted))
        return [path for path, key in files.items() if key not in self._nodes]

    def _take_in(
        self,
        found: Mapping[str, Content],
        files: Mapping[str, str],
        listing: Mapping[str, str],
        unreadable: dict[str, Damaged],
    ) -> None:
        nodes = _nodes(found, unreadable)
        for path, content in found.items():
            # Git reads an object without looking whether it is what its id says, and the cache
            # outlives the folder: what a forged one says is not kept for the true one.
            if not isinstance(content, bytes) or blob_id(content, listing[path]) != listing[path]:
                self._forged.add(path)
            elif path in nodes:
                self.cache.keep_node(files[path], nodes[path])
        self._nodes.update({files[path]: node for path, node in nodes.items()})

    def nodes_of(self, listing: Mapping[str, str], paths: Iterable[str]) -> dict[str, NodeRecord]:
        """Return the nodes that files of a listing hold, by their paths; raises Damaged."""
        files = {path: f"{path}@{listing[path]}" for path in paths}
        found = self._contents(listing, self._unknown(files))
        unreadable: dict[str, Damaged] = {}
        self._take_in(found, files, listing, unreadable)
        nodes = [self._nodes[key] for key in files.values() if key in self._nodes]
        nodes = self._with_drawings(nodes, listing, {}, unreadable)
        for error in unreadable.values():
            raise error
        return {node.path: node for node in nodes}

    def edited(self, revision: str, edits: Mapping[str, bytes | None]) -> State:
        """Do as `at`, but raise Damaged where these edits leave anything unreadable."""
        after = self.at(revision, edits)
        if after.unreadable:
            before = self.at(revision).unreadable
            for path in (*edits, *after.unreadable):
                if path in after.unreadable and (path in edits or path not in before):
                    raise after.unreadable[path]
        return after

    def _settings(
        self,
        contents: Mapping[str, Content],
        recorded: Mapping[str, str],
        unreadable: dict[str, Damaged],
    ) -> Settings:
        try:
            return read_settings(SETTINGS_FILE, _whole(SETTINGS_FILE, contents))
        except BadRecord as error:
            stands_in = self._contents(recorded, {SETTINGS_FILE})
            if stands_in.get(SETTINGS_FILE) in (None, contents.get(SETTINGS_FILE)):
                raise
            unreadable[SETTINGS_FILE] = error
        return read_settings(SETTINGS_FILE, _whole(SETTINGS_FILE, stands_in))

    def _contents(
        self, listing: Mapping[str, str], paths: Iterable[str], at_most: int = LARGEST_RECORD
    ) -> dict[str, Content]:
        """Return what files of a listing hold, or why git cannot give it."""
        found: dict[str, Content] = {}
        waiting = [[path for path in sorted(paths) if path in listing]]
        broken = total = 0
        while waiting:
            some = waiting.pop()
            try:
                blobs = self.store.read({listing[path] for path in some}, at_most)
            except Damaged as error:
                broken += len(some) == 1
                if not some or broken > MOST_BROKEN or total > LARGEST_READING:
                    raise
                if len(some) == 1:
                    self.gaps.note(self._earlier, some[0], listing[some[0]], error)
                    found[some[0]] = not_given(some[0], self._earlier, error)
                else:
                    half = len(some) // 2
                    waiting += [some[:half], some[half:]]
                continue
            total += sum(map(len, blobs.values()))
            found |= {path: blobs[listing[path]] for path in some}
        return found

    def _with_drawings(
        self,
        nodes: list[NodeRecord],
        listing: Mapping[str, str],
        given: Mapping[str, Content],
        unreadable: dict[str, Damaged],
    ) -> list[NodeRecord]:
        """Return nodes, traced ones with the drawing that stands beside their record."""
        paths = {node.drawing_path for node in nodes if node.traced}
        if not paths:
            return nodes
        drawings = {**self._contents(listing, paths, LARGEST_DRAWING), **given}
        found = []
        for node in nodes:
            try:
                found.append(_with_drawing(node, node.traced, drawings) if node.traced else node)
            except Damaged as error:
                unreadable[node.path] = error
        return found


def _whole(path: str, contents: Mapping[str, Content]) -> bytes:
    """Return what a file holds; raises Damaged where that is not to be had."""
    content = contents.get(path)
    if content is None:
        raise BadRecord(path, "it is missing")
    if isinstance(content, Damaged):
        raise content
    return content


def _with_drawing(
    node: NodeRecord, traced: TracedDraft, drawings: Mapping[str, Content]
) -> NodeRecord:
    path = node.drawing_path
    if drawings.get(path) is None:
        raise BadRecord(path, f"the drawing {node.name} was traced from is missing")
    try:
        drawing = _whole(path, drawings).decode("utf-8")
    except UnicodeDecodeError:
        raise BadRecord(path, "it is not UTF-8 text") from None
    return replace(node, traced=replace(traced, drawing=drawing))


def _nodes(
    contents: Mapping[str, Content], unreadable: dict[str, Damaged]
) -> dict[str, NodeRecord]:
    """Return the nodes of files by their paths, and note those that cannot be read."""
    found = {}
    for path in contents:
        if is_node_file(path) and contents[path] is not None:
            try:
                found[path] = read_node(path, _whole(path, contents))
            except Damaged as error:
                unreadable[path] = error
    return found


def _garments(
    contents: Mapping[str, Content], unreadable: dict[str, Damaged]
) -> dict[str, GarmentRecord]:
    """Return the garments of files by their names, and note those that cannot be read."""
    return _named(contents, is_garment_file, read_garment, unreadable)


def _bodies(
    contents: Mapping[str, Content], unreadable: dict[str, Damaged]
) -> dict[str, BodyRecord]:
    """Return the bodies of files by their names, and note those that cannot be read."""
    return _named(contents, is_body_file, read_body, unreadable)


def _named(
    contents: Mapping[str, Content],
    is_one: Callable[[str], bool],
    read: Callable[[str, bytes], _Named],
    unreadable: dict[str, Damaged],
) -> dict[str, _Named]:
    found = {}
    for path in sorted(contents):
        if is_one(path) and contents[path] is not None:
            try:
                record = read(path, _whole(path, contents))
                found[record.name] = record
            except Damaged as error:
                unreadable[path] = error
    return found


def _state(
    settings: Settings,
    nodes: list[NodeRecord],
    garments: Mapping[str, GarmentRecord],
    bodies: Mapping[str, BodyRecord],
    unreadable: Mapping[str, Damaged],
) -> State:
    sifted = sift(nodes, unreadable)
    return State(settings, sifted.nodes, garments, sifted.unreadable, bodies)
