"""Read all nodes of a wardrobe, as of any commit or with the maker's unrecorded edits."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

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
    _nodes: dict[tuple[str, str], NodeRecord] = field(default_factory=dict)
    _settings: dict[str, Settings] = field(default_factory=dict)

    def at(self, revision: str) -> State:
        """Return the wardrobe as of a revision; raises BadRecord for a file that cannot be read."""
        listing = self.store.listing(revision)
        wanted = {p: b for p, b in listing.items() if is_node_file(p) or p == SETTINGS_FILE}
        unknown = {
            blob
            for path, blob in wanted.items()
            if (path, blob) not in self._nodes and blob not in self._settings
        }
        contents = self.store.read(unknown)
        for path, blob in wanted.items():
            if path == SETTINGS_FILE:
                if blob not in self._settings:
                    self._settings[blob] = read_settings(path, contents[blob])
            elif (path, blob) not in self._nodes:
                self._nodes[path, blob] = read_node(path, contents[blob])
        if SETTINGS_FILE not in wanted:
            raise BadRecord(SETTINGS_FILE, "it is missing")
        nodes = (self._nodes[p, b] for p, b in wanted.items() if p != SETTINGS_FILE)
        return _state(self._settings[wanted[SETTINGS_FILE]], nodes)

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
