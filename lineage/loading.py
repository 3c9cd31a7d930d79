"""Read all nodes of a wardrobe, as of any commit or with the maker's unrecorded edits."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from lineage.cache import Cache, NoCache
from lineage.errors import BadRecord
from lineage.garments.files import is_garment_file, read_garment
from lineage.garments.records import GarmentRecord
from lineage.limits import LARGEST_DRAWING, LARGEST_RECORD
from lineage.reading import is_node_file, read_node, read_settings
from lineage.records import NodeRecord, Settings, TracedDraft, replace
from lineage.state import State
from lineage.store import Store
from lineage.store.working_files import blob_id

SETTINGS_FILE = "wardrobe.toml"

_NO_EDITS: Mapping[str, bytes | None] = MappingProxyType({})


@dataclass
class Loader:
    """Reads states from a store; a file that was read once, in any version, is not read again."""

    store: Store
    cache: Cache = field(default_factory=NoCache)
    _nodes: dict[str, NodeRecord] = field(default_factory=dict)

    def at(self, revision: str, edits: Mapping[str, bytes | None] = _NO_EDITS) -> State:
        """Return the wardrobe as of a revision, files edited by hand put over it.

        A file that was edited, or deleted (None), is not read as it was. Raises BadRecord for a
        file that cannot be read.
        """
        recorded = self.store.listing(revision)
        listing = {path: blob for path, blob in recorded.items() if path not in edits}
        if SETTINGS_FILE not in listing and edits.get(SETTINGS_FILE) is None:
            raise BadRecord(SETTINGS_FILE, "it is missing")
        files = {path: f"{path}@{blob}" for path, blob in listing.items() if is_node_file(path)}
        garments = {path for path in listing if is_garment_file(path)}
        self._nodes.update(
            self.cache.nodes(key for key in files.values() if key not in self._nodes)
        )
        unknown = {path: listing[path] for path, key in files.items() if key not in self._nodes}
        wanted = {path for path in (SETTINGS_FILE,) if path in listing} | unknown.keys() | garments
        blobs = self.store.read({listing[path] for path in wanted}, LARGEST_RECORD)
        contents = {**edits, **{path: blobs[listing[path]] for path in wanted}}
        for path in unknown:
            content = contents[path] or b""
            node = read_node(path, content)
            self._nodes[files[path]] = node
            # Git reads an object without looking whether it is what its id says, and the cache
            # outlives the folder: what a forged one says is not kept for the true one.
            if blob_id(content, like=listing[path]) == listing[path]:
                self.cache.keep_node(files[path], node)
        nodes = [self._nodes[key] for key in files.values()]
        nodes += [
            read_node(path, content)
            for path, content in edits.items()
            if content is not None and is_node_file(path)
        ]
        nodes = self._with_drawings(nodes, listing, edits)
        settings = read_settings(SETTINGS_FILE, contents[SETTINGS_FILE] or b"")
        return _state(settings, nodes, _garments(contents))

    def _with_drawings(
        self,
        nodes: list[NodeRecord],
        listing: Mapping[str, str],
        edits: Mapping[str, bytes | None],
    ) -> list[NodeRecord]:
        """Return nodes, traced ones with the drawing that stands beside their record."""
        paths = {node.drawing_path for node in nodes if node.traced}
        if not paths:
            return nodes
        found = {listing[path] for path in paths if path in listing}
        blobs = self.store.read(found, LARGEST_DRAWING)
        read = {path: blobs[listing[path]] for path in paths if path in listing}
        drawings = {**read, **{path: edits[path] for path in paths if path in edits}}
        return [
            _with_drawing(node, node.traced, drawings.get(node.drawing_path))
            if node.traced
            else node
            for node in nodes
        ]


def _with_drawing(node: NodeRecord, traced: TracedDraft, content: bytes | None) -> NodeRecord:
    if content is None:
        raise BadRecord(node.drawing_path, f"the drawing {node.name} was traced from is missing")
    try:
        drawing = content.decode("utf-8")
    except UnicodeDecodeError:
        raise BadRecord(node.drawing_path, "it is not UTF-8 text") from None
    return replace(node, traced=replace(traced, drawing=drawing))


def _garments(contents: Mapping[str, bytes | None]) -> dict[str, GarmentRecord]:
    read = (
        read_garment(path, content)
        for path, content in sorted(contents.items())
        if content is not None and is_garment_file(path)
    )
    return {garment.name: garment for garment in read}


def _state(
    settings: Settings, nodes: Iterable[NodeRecord], garments: Mapping[str, GarmentRecord]
) -> State:
    by_name: dict[str, NodeRecord] = {}
    for node in nodes:
        if node.name in by_name:
            twin = by_name[node.name].path
            raise BadRecord(node.path, f'the name "{node.name}" is also in {twin}', "", "name")
        by_name[node.name] = node
    state = State(settings, by_name, garments)
    _ = state.graph
    return state
