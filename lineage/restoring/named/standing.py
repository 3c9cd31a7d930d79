"""Where a wardrobe stands: on which branch, at which version, and which steps are lost. Pure.

A branch stands where its name says. Where that cannot be read, its log and HEAD's say where it
stood; and where these cannot, the commits themselves do. A version that is not whole is passed
over for the one before it.
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from trueup.lineage.restoring.findings import KnownVersion
from trueup.lineage.restoring.named.logs import Log
from trueup.lineage.restoring.named.names import BRANCHES, Target
from trueup.lineage.restoring.stored.commits import History

MOST_PASSED_OVER = 10
"""Readable steps that are given up for a whole version. For more, the history keeps its gap."""

HEAD = "HEAD"


@dataclass(frozen=True)
class Names:
    """What git's names say, as far as they can be read.

    `ids` are what they stand for, `damaged` those whose file says nothing that can be used.
    """

    head: Target | None
    ids: Mapping[str, str]
    damaged: Collection[str] = ()
    logs: Mapping[str, Log] = field(default_factory=dict)

    @property
    def latest(self) -> str | None:
        """Return the version HEAD stands for, as far as the names say."""
        return (self.head.id or self.ids.get(self.head.name or "")) if self.head else None

    def log(self, name: str) -> Log:
        """Return the log of a name, an empty one where there is none."""
        return self.logs.get(name, Log())

    def starts(self) -> list[str]:
        """Return every version that something names, the logs included."""
        found = dict.fromkeys(self.ids.values())
        if self.head and self.head.id:
            found[self.head.id] = None
        return list(found | self.logged())

    def logged(self) -> dict[str, None]:
        """Return every version that the logs name."""
        entries = (entry for log in self.logs.values() for entry in log.entries)
        return dict.fromkeys(each for e in entries for each in (e.old, e.new) if each)


@dataclass(frozen=True)
class BranchStanding:
    """Where the wardrobe is to stand: `branch` is None on no branch, `tip` None without a version.

    `lost` are the steps that come after it and cannot be kept, latest first.
    """

    branch: str | None
    tip: str | None
    lost: tuple[KnownVersion, ...] = ()


def standing(
    names: Names,
    history: History,
    is_whole: Callable[[str], bool],
    lies_here: Callable[[str], bool],
) -> BranchStanding:
    """Return where the wardrobe is to stand.

    `lies_here` tells whether the working files are those of a version.
    """
    if names.head and names.head.id and is_whole(names.head.id):
        return BranchStanding(None, names.head.id)
    branch = branch_of(names)
    tip, lost = _tip(names, (branch, HEAD), history, is_whole)
    if tip is None:
        tip = next((each for each in history.tips() if is_whole(each)), None)
    if tip is not None and names.ids.get(branch) != tip and not lost:
        tip = _unlogged(tip, names, history, is_whole, lies_here) or tip
    return BranchStanding(branch, tip, lost)


def branch_of(names: Names) -> str:
    """Return the branch HEAD names, or must have named."""
    logged = (n for n in names.logs if n.startswith(BRANCHES))
    branches = sorted({n for n in (*names.ids, *names.damaged, *logged) if n.startswith(BRANCHES)})
    said = names.head.name if names.head else None
    if said in branches:
        return str(said)
    last = names.log(HEAD).newest
    for name in branches:
        if last is not None and last in (names.ids.get(name), names.log(name).newest):
            return name
    for name in (f"{BRANCHES}main", f"{BRANCHES}master", *branches):
        if name in branches:
            return name
    return said if said and said.startswith(BRANCHES) else f"{BRANCHES}main"


def _tip(
    names: Names, logs: Sequence[str], history: History, is_whole: Callable[[str], bool]
) -> tuple[str | None, tuple[KnownVersion, ...]]:
    """Return the latest version of a name that is whole, and what comes after it.

    `logs` are the name, and another whose log says where it stood as well.
    """
    lost: list[KnownVersion] = []
    readable = 0
    best: tuple[str, int] | None = None
    logged = names.logged()
    for commit in _backwards(names, logs, history):
        if is_whole(commit):
            return commit, tuple(lost)
        if commit in history.commits:
            best = best or (commit, len(lost))
            readable += 1
            if readable > MOST_PASSED_OVER:
                break
        elif commit not in logged:
            continue  # it was never a version: the name itself is damaged
        lost.append(_version(commit, history, names))
    if best is not None:
        return best[0], tuple(lost[: best[1]])
    return None, tuple(lost)


def _backwards(names: Names, logs: Sequence[str], history: History) -> Iterator[str]:
    """Yield where a name stood, latest first, by itself, by the logs, and by the commits."""
    before: dict[str, str] = {}
    for name in reversed(logs):
        before |= names.log(name).before()
    starts = [names.ids.get(logs[0]), *(names.log(name).newest for name in logs)]
    if not any(starts) and HEAD in logs:
        starts = list(history.tips()[:1])
    seen = set()
    for start in starts:
        commit = start
        while commit is not None and commit not in seen:
            seen.add(commit)
            yield commit
            above = history.parents(commit)
            commit = above[0] if above else before.get(commit)


def _unlogged(
    tip: str,
    names: Names,
    history: History,
    is_whole: Callable[[str], bool],
    lies_here: Callable[[str], bool],
) -> str | None:
    """Return the step after `tip` that no log names and whose files lie here: it was recorded."""
    logged = names.logged()
    after, found = {tip}, None
    for commit in history.in_order:
        follows = not after.isdisjoint(history.commits[commit].parents[:1])
        if follows and commit not in logged and is_whole(commit):
            after.add(commit)
            if lies_here(commit):
                found = commit
    return found


def name_of(
    name: str, names: Names, history: History, is_whole: Callable[[str], bool]
) -> tuple[str | None, tuple[KnownVersion, ...]]:
    """Return what a name other than the wardrobe's branch is to stand for, and what it loses."""
    recorded = names.ids.get(name)
    if recorded is not None and name not in names.damaged:
        # A tag may stand for anything; a branch that does not stand for a version is damaged.
        if recorded in history.commits:
            return recorded, ()
        if history.holds(recorded) and not name.startswith(BRANCHES):
            return recorded, ()
    return _tip(names, (name,), history, is_whole)


def cuts(tip: str, history: History) -> frozenset[str]:
    """Return the commits at or before `tip` that follow one which is not there."""
    return frozenset(
        commit
        for commit in history.reached([tip])
        if commit in history.commits
        and any(parent not in history.commits for parent in history.parents(commit))
    )


def before_cut(
    commit: str, names: Names, history: History, reached: Collection[str]
) -> tuple[str | None, tuple[str, ...]]:
    """Return the last version before a gap in the history, and the commits that are lost in it.

    The logs say what came before a lost commit; where they do not go back so far, it is the latest
    that has nothing to do with what is `reached`.
    """
    before: dict[str, str] = {}
    for log in names.logs.values():
        before = {**log.before(), **before}
    lost = []
    for parent in history.commits[commit].parents:
        at: str | None = parent
        while at is not None and at not in history.commits and at not in lost:
            lost.append(at)
            at = before.get(at)
        if at in history.commits:
            return at, tuple(lost)
    return _apart_before(commit, history, reached), tuple(lost)


def _apart_before(commit: str, history: History, reached: Collection[str]) -> str | None:
    """Return the latest version no later than a commit that shares no history with what is reached.

    Of one second, it is one with a gap before it: no other can come before such a one.
    """
    latest = history.commits[commit].when
    ends = [
        end
        for end in history.tips()
        if history.commits[end].when <= latest and history.reached([end]).keys().isdisjoint(reached)
    ]
    return max(ends, key=lambda e: (history.commits[e].when, bool(cuts(e, history))), default=None)


def incomplete(history: History, is_whole: Callable[[str], bool]) -> frozenset[str]:
    """Return the commits that lack something, themselves or before them."""
    after: dict[str, list[str]] = {}
    waiting = []
    for commit in history.commits:
        above = history.parents(commit)
        for parent in above:
            after.setdefault(parent, []).append(commit)
        if not is_whole(commit) or any(parent not in history.commits for parent in above):
            waiting.append(commit)
    found: set[str] = set()
    while waiting:
        commit = waiting.pop()
        if commit not in found:
            found.add(commit)
            waiting += after.get(commit, ())
    return frozenset(found)


def versions(commits: Sequence[str], names: Names, history: History) -> tuple[KnownVersion, ...]:
    """Return what is known of commits."""
    return tuple(_version(commit, history, names) for commit in commits)


def _version(commit: str, history: History, names: Names) -> KnownVersion:
    made = history.commits.get(commit)
    if made is not None:
        return KnownVersion(commit, made.when, made.subject)
    for log in names.logs.values():
        when = log.dates().get(commit)
        if when is not None:
            return KnownVersion(commit, when)
    return KnownVersion(commit)
