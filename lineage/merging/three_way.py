"""The rule of every merge: what one side changed is taken, what both changed is asked. Pure."""

from collections.abc import Hashable, Iterable
from dataclasses import dataclass
from typing import TypeVar

from trueup.lineage.files.records import StepRecord

_Value = TypeVar("_Value")
_Key = TypeVar("_Key", bound=Hashable)


@dataclass(frozen=True)
class Sides:
    """What a message calls the two versions: who made the last step of each, and its commit."""

    ours: str = "one maker"
    theirs: str = "another maker"


@dataclass(frozen=True)
class Note:
    """One thing a merge did without asking.

    `what` is `came-in`, `same`, `kept` or `dropped`; `place` the node, garment or file it is about;
    `steps` the ids of the steps, where it is about steps.
    """

    what: str
    place: str
    says: str
    steps: tuple[str, ...] = ()


def three_way(base: _Value, ours: _Value, theirs: _Value) -> tuple[_Value, bool]:
    """Return the merged value, and whether the two sides agree on it; ours where they do not.

    >>> three_way(1, 1, 2), three_way(1, 3, 1), three_way(1, 2, 3)
    ((2, True), (3, True), (2, False))
    """
    if theirs in (ours, base):
        return ours, True
    return (theirs, True) if ours == base else (ours, False)


def united(base: Iterable[_Key], ours: Iterable[_Key], theirs: Iterable[_Key]) -> tuple[_Key, ...]:
    """Return a list of words merged as a set: what either side added, without what either took out.

    >>> united("ab", "abc", "b")
    ('b', 'c')
    """
    before, mine, others = dict.fromkeys(base), dict.fromkeys(ours), dict.fromkeys(theirs)
    every = dict.fromkeys((*mine, *others))
    return tuple(k for k in every if (k in mine and k in others) or k not in before)


def in_order(
    base: Iterable[_Key], ours: Iterable[_Key], theirs: Iterable[_Key]
) -> tuple[_Key, ...]:
    """Return all keys of both sides in one order: that of ours, theirs put where theirs has them.

    What both added at the same place comes in the order ours, theirs.

    >>> in_order("ab", "abx", "acby")
    ('a', 'c', 'b', 'x', 'y')
    """
    shared = {*base, *(theirs := tuple(theirs))}
    merged = list(dict.fromkeys(ours))
    place = 0
    for key in theirs:
        if key in merged:
            place = merged.index(key) + 1
            continue
        while place < len(merged) and merged[place] not in shared:
            place += 1
        merged.insert(place, key)
        place += 1
    return tuple(merged)


def identities(*chains: Iterable[StepRecord]) -> dict[str, str]:
    """Return one key for every id of a step in some chains, the same for ids of one step.

    A step that two makers made is recorded with both ids.
    """
    key: dict[str, str] = {}
    for step in (step for chain in chains for step in chain):
        ids = (step.id, *step.same_as)
        known = {key[each] for each in ids if each in key}
        first = min({*ids, *known})
        key.update(dict.fromkeys(ids, first))
        key.update({each: first for each, old in key.items() if old in known})
    return key
