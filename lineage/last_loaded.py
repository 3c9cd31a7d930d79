"""The wardrobe as it was read last, from which one is told that differs from it in a few nodes.

It is kept under git's id of all files, which says their content for good: so it stands for every
version of that id, and for one with other files as far as these say nothing of who derives from
whom. Whatever does not fit is read as if nothing were kept.
"""

from collections.abc import Callable, Iterable, Mapping
from functools import cached_property, partial

from trueup.lineage.errors import Damaged
from trueup.lineage.evaluation.cache import Cache
from trueup.lineage.files.bodies.reading import is_body_file
from trueup.lineage.files.garment_files import is_garment_file
from trueup.lineage.files.kept.nodes import KeptNodes
from trueup.lineage.files.kept.wardrobe import KeptWardrobe
from trueup.lineage.files.reading import is_node_file, read_node
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.files.state import State
from trueup.lineage.store.files.paths import SETTINGS
from trueup.lineage.store.git.objects import Listing

Content = bytes | Damaged | None
"""What a file holds, why it cannot be read, or None where there is no file."""

NodesOf = Callable[[Mapping[str, str], Iterable[str]], Mapping[str, NodeRecord]]
"""Reads the nodes of some paths, all files and the ids of their content given; raises Damaged."""


class LastLoaded:
    """The wardrobe as it was read last, by this command or an earlier one."""

    def __init__(self, cache: Cache, nodes_of: NodesOf) -> None:
        self._cache, self._nodes_of = cache, nodes_of

    @cached_property
    def wardrobe(self) -> KeptWardrobe | None:
        """The wardrobe as it was kept, None where none was."""
        return self._cache.wardrobe()

    @cached_property
    def _nodes(self) -> KeptNodes | None:
        kept = self.wardrobe
        if kept is None:
            return None
        return KeptNodes(kept.kin, kept.in_order, partial(self._nodes_of, kept.files), {})

    def state(self, files: Listing, edits: Mapping[str, Content]) -> State | None:
        """Return a version's files, some edited by hand, as a state; None where it must be read."""
        kept, nodes = self.wardrobe, self._nodes
        if kept is None or nodes is None or files.links:
            return None
        changed = kept.changed_in(files, edits)
        of_nodes = {path for path in changed if is_node_file(path)}
        if any(map(_matters, changed - of_nodes)) or not of_nodes <= kept.files.keys():
            return None
        try:
            found = self._changed(of_nodes, files, edits)
        except Damaged:
            return None
        if found is None or any(node.traced for node in found):
            return None
        after = nodes.after(found) if found else nodes
        if after is None:
            return None
        return State(kept.settings, after, kept.garments, {}, kept.bodies)

    def _changed(
        self, paths: Iterable[str], files: Listing, edits: Mapping[str, Content]
    ) -> list[NodeRecord] | None:
        recorded: list[str] = []
        found: dict[str, NodeRecord] = {}
        for path in paths:
            if path not in edits:
                if path not in files:
                    return None
                recorded.append(path)
                continue
            content = edits[path]
            if not isinstance(content, bytes):
                return None
            found[path] = read_node(path, content)
        found.update(self._nodes_of(files, recorded))
        return list(found.values()) if all(n.path == path for path, n in found.items()) else None

    def keep(self, files: Listing, state: State) -> None:
        """Keep a version that was read: its files, and the state that all of them make."""
        known = self.wardrobe
        if files.links or state.unreadable or (known and known.is_of(files, files.special)):
            return
        tree = files.tree(like=files[SETTINGS])
        records = (state.settings, dict(state.garments), dict(state.bodies))
        kin = dict(state.kin)
        kept = KeptWardrobe(tree, dict(files), files.special, kin, state.in_order, *records)
        self._cache.keep_wardrobe(kept)
        self.wardrobe = kept
        vars(self).pop("_nodes", None)


def _matters(path: str) -> bool:
    """Return whether a file that holds no node is part of a state."""
    is_drawing = path.startswith("blocks/") and path.endswith(".svg")
    return path == SETTINGS or is_drawing or is_garment_file(path) or is_body_file(path)
