"""The versions of nodes: at which recorded steps the geometry of each became another."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import islice

from trueup.lineage.errors import WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.limits import MOST_MEASURED
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.replay.replay import stale
from trueup.lineage.store import Commit
from trueup.lineage.store.files.paths import SETTINGS

_OF_NODES = ("blocks", "patterns", SETTINGS)
"""The files and folders from which nodes are evaluated."""


def versions(
    wardrobe: OpenWardrobe, names: Iterable[str], most: int, until: str = "HEAD"
) -> Mapping[str, tuple[Commit, ...]]:
    """Return, for each node named, the commits that gave it another geometry, newest first.

    The last of them made the node, where there are no more than `most`. A step on an ancestor
    counts when it arrived. All nodes are found in one walk through the history, in which only what
    a step can have reached is looked at. It ends early at a version that cannot be read, for a node
    at one in which that node cannot, and after as many as are ever measured. Raises
    UnknownRevision.
    """
    found: dict[str, list[Commit]] = {name: [] for name in names}
    ended: set[str] = set()
    for commit in islice(_first_parents(wardrobe, until), MOST_MEASURED):
        waiting = {name for name, commits in found.items() if len(commits) < most} - ended
        if not waiting:
            break
        try:
            changed = tuple(_changed(wardrobe, commit, waiting))
        except WardrobeError:
            break
        for name, is_readable in changed:
            if is_readable:
                found[name].append(commit)
            else:
                ended.add(name)
    return {name: tuple(commits) for name, commits in found.items()}


def _first_parents(wardrobe: OpenWardrobe, until: str) -> Iterator[Commit]:
    """Yield a version and those before it that may have changed a node.

    Work that was joined to a version counts when it was joined.
    """
    wanted = wardrobe.resolve(until)
    # Of many a version git can tell cheaply that it left them all alone.
    touched = {commit.id for commit in wardrobe.history(_OF_NODES, until=until)}
    # No version comes before one that follows it, so none is passed by.
    for commit in wardrobe.history(until=until):
        if commit.id == wanted:
            if commit.id in touched or len(commit.parents) != 1:
                yield commit
            if not commit.parents:
                return
            wanted = commit.parents[0]


def _changed(
    wardrobe: OpenWardrobe, commit: Commit, waiting: set[str]
) -> Iterator[tuple[str, bool]]:
    """Yield the nodes to which a step gave another geometry, and whether both can be read."""
    after = wardrobe.evaluator_at(commit.id)
    if not commit.parents:
        yield from ((name, True) for name in waiting & after.state.nodes.keys())
        return
    before = wardrobe.evaluator_at(commit.parents[0])
    lost = before.state.lost_nodes.keys() | after.state.lost_nodes.keys()
    yield from ((name, False) for name in waiting & lost)
    for name in stale(before.state, after.state):
        if name not in waiting or name in lost:
            continue
        try:
            differs = _shape(before, name) != _shape(after, name)
        except WardrobeError:
            yield name, False
            continue
        if differs:
            yield name, True


def _shape(evaluator: Evaluator, name: str) -> str | None:
    return evaluator.summary(name).fingerprint if name in evaluator.state.nodes else None
