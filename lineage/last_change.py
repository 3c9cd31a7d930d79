"""Which version of a node was the last that differs from a later one."""

from collections.abc import Iterator

from trueup.lineage.errors import BadInput, Damaged
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.few_enough import few_enough
from trueup.lineage.files.state import State
from trueup.lineage.opened import OpenWardrobe


def before_last_change(wardrobe: OpenWardrobe, now: Evaluator, node: str, until: str) -> str | None:
    """Return the last version, up to `until`, in which the geometry of a node is not as in `now`.

    A step on an ancestor counts when it arrived at the node. A version that cannot be read is
    passed over. None where the node has been as it is from its beginning; where that cannot be
    told, raises what kept a version from being read. Raises NoSuchNode, UnknownRevision,
    TooManyVersions.
    """
    shape = now.summary(node).fingerprint
    passed_over: Damaged | None = None
    for commit in few_enough(_versions(wardrobe, now.state, node, until)):
        try:
            found = _shape(wardrobe, commit, node)
        except Damaged as error:
            passed_over = passed_over or error
            continue
        if found is None:
            break
        if found != shape:
            return commit
    if passed_over is not None:
        raise passed_over
    return None


def _versions(wardrobe: OpenWardrobe, state: State, node: str, until: str) -> Iterator[str]:
    """Yield the version itself, then those before each step that touched the node's ancestry."""
    yield wardrobe.resolve(until)
    paths = [state.nodes[name].path for name in _ancestry(state, node)]
    for commit in wardrobe.history(paths, until=until):
        yield from commit.parents[:1]


def _ancestry(state: State, node: str) -> Iterator[str]:
    seen, waiting = set[str](), [node]
    while waiting:
        name = waiting.pop()
        if name not in seen and name in state.nodes:
            seen.add(name)
            yield name
            waiting += [parent.name for parent in state.nodes[name].followed]


def _shape(wardrobe: OpenWardrobe, commit: str, node: str) -> str | None:
    """Return the fingerprint of a node at a version, None where there is none; raises Damaged."""
    try:
        evaluator = wardrobe.evaluator_at(commit)
        return evaluator.summary(node).fingerprint if evaluator.state.has(node) else None
    except BadInput:
        return None
