"""A measure of one node at every commit that changed it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.side import unsided
from trueup.geometry.sides.naming import names_at, read_at
from trueup.geometry.tolerance import UNCHANGED
from trueup.lineage.chronicle.chronicle import Chronicle
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.chronicle.selection import paths_above
from trueup.lineage.errors import WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.few_enough import few_enough
from trueup.lineage.loading import SETTINGS_FILE


@dataclass(frozen=True)
class TakenMeasure:
    """A measure after the commit that changed it, mm.

    `value_mm` is None where the node has it no more; `change_mm` where it did not have it before.
    """

    name: str
    entry: Entry
    value_mm: float | None
    change_mm: float | None


def over_time(chronicle: Chronicle, node: str, names: Sequence[str]) -> tuple[TakenMeasure, ...]:
    """Return the named measures of a node at each commit that changed them, oldest first.

    A name may begin several (`front`); all measures when none is given. Where two histories were
    joined, the join is told only when the measure is then as in neither of them. A version that
    cannot be read is passed over. Raises NoSuchNode, NoSuchName for a measure it never had,
    TooManyVersions.
    """
    chronicle.now.state.node(node)
    if names:
        names = tuple(map(chronicle.now.summary(node).by_own_name, names))
    found: list[TakenMeasure] = []
    known: dict[str, None] = {}
    for entry in _touching(chronicle, node):
        try:
            now = _measures(entry.after, node)
            parents = [_measures(chronicle.at(parent), node) for parent in entry.commit.parents]
        except WardrobeError:
            continue
        known |= dict.fromkeys(now)
        befores = parents or [{}]
        for name in dict.fromkeys((*now, *befores[0])):
            if names_at(now, name) != (name,):
                continue  # it is parted into left and right, and read of each
            if _chosen(name, names) and all(_differ(now, old, name) for old in befores):
                value, old_value = read_at(now, name), read_at(befores[0], name)
                both = value is not None and old_value is not None
                change = value - old_value if both else None  # type: ignore[operator]
                found.append(TakenMeasure(name, entry, value, change))
    for name in names:
        if not any(_chosen(each, (name,)) for each in known):
            raise NoSuchName("measure", name, node, tuple(known))
    return tuple(found)


def _touching(chronicle: Chronicle, node: str) -> list[Entry]:
    """Return the entries that touched the node or any that was ever above it, oldest first."""
    wardrobe, until = chronicle.wardrobe, chronicle.until
    paths: set[str] = {SETTINGS_FILE, *paths_above(chronicle.now.state, node)}
    while True:
        commits = wardrobe.history(sorted(paths), until=until)
        entries = [chronicle.entry(commit) for commit in reversed(tuple(few_enough(commits)))]
        above = {path for entry in entries for path in _above_then(entry, node)}
        if above <= paths:
            return entries
        paths |= above


def _above_then(entry: Entry, node: str) -> Iterable[str]:
    if entry.states is None or node not in entry.states[1].nodes:
        return ()
    return paths_above(entry.states[1], node)


def _measures(evaluator: Evaluator, node: str) -> dict[str, float]:
    has_it = evaluator.state.has(node)
    return evaluator.summary(node).measures_by_own_names if has_it else {}


def _chosen(measure: str, names: Sequence[str]) -> bool:
    told = (measure, unsided(measure))
    return not names or any(
        each == name or each.startswith(f"{name}.") for name in names for each in told
    )


def _differ(now: dict[str, float], old: dict[str, float], name: str) -> bool:
    is_now, was = read_at(now, name), read_at(old, name)
    if is_now is None or was is None:
        return is_now is not was
    return abs(is_now - was) > UNCHANGED
