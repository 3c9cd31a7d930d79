"""Read all nodes of a wardrobe, as of any commit or with the maker's unrecorded edits."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from lineage.cache import Cache, NoCache
from lineage.errors import BadRecord
from lineage.reading import is_node_file, read_node, read_settings
from lineage.records import NodeRecord, Settings
from lineage.state import State
from lineage.store import Store

SETTINGS_FILE = "wardrobe.toml"


@dataclass
class Loader:
    """Reads states from a store; a file that was read once, in any version, is not read again."""

    store: Store
    cache: Cache = field(default_factory=NoCache)
    _nodes: dict[str, NodeRecord] = field(default_factory=dict)
    _asked_cache: bool = False

    def at(self, revision: str) -> State:
        """Return the wardrobe as of a revision; raises BadRecord for a file that cannot be read."""
        listing = self.store.listing(revision)
        if SETTINGS_FILE not in listing:
            raise BadRecord(SETTINGS_FILE, "it is missing")
        files = {path: f"{path}@{blob}" for path, blob in listing.items() if is_node_file(path)}
        self._look_in_cache(files.values())
        unknown = {path: listing[path] for path, key in files.items() if key not in self._nodes}
        settings = listing[SETTINGS_FILE]
        contents = self.store.read({settings, *unknown.values()})
        for path, blob in unknown.items():
            node = read_node(path, contents[blob])
            self._nodes[files[path]] = node
            self.cache.keep_node(files[path], node)
        nodes = (self._nodes[key] for key in files.values())
        return _state(read_settings(SETTINGS_FILE, contents[settings]), nodes)

    def _look_in_cache(self, keys: Iterable[str]) -> None:
        if not self._asked_cache and any(key not in self._nodes for key in keys):
            self._asked_cache = True
            self._nodes.update(self.cache.nodes())

    def with_edits(self, base: State, edits: Mapping[str, bytes | None]) -> State:
        """Return a state with files edited by hand put over it; raises BadRecord."""
        settings = base.settings
        nodes = {node.path: node for node in base.nodes.values()}
        for path, content in edits.items():
            if path == SETTINGS_FILE:
                if content is None:
                    raise BadRecord(SETTINGS_FILE, "it is missing")
                settings = read_settings(path, content)
            elif is_node_file(path):
                nodes.pop(path, None)
                if content is not None:
                    nodes[path] = read_node(path, content)
        return _state(settings, nodes.values())


def _state(settings: Settings, nodes: Iterable[NodeRecord]) -> State:
    by_name: dict[str, NodeRecord] = {}
    for node in nodes:
        if node.name in by_name:
            twin = by_name[node.name].path
            raise BadRecord(node.path, f'the name "{node.name}" is also in {twin}', "", "name")
        by_name[node.name] = node
    state = State(settings, by_name)
    _ = state.graph
    return state
