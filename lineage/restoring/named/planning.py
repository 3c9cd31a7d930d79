"""Plan what becomes of git's names and their logs, so that each stands for something whole."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from trueup.lineage.restoring.acts import Act, Aside, Write
from trueup.lineage.restoring.findings import Cure, KnownVersion, Trouble, Wrong
from trueup.lineage.restoring.named.logs import Log, LogEntry, log_text, read_log
from trueup.lineage.restoring.named.names import BRANCHES, packed_without
from trueup.lineage.restoring.named.reading import Written
from trueup.lineage.restoring.named.standing import (
    HEAD,
    BranchStanding,
    Names,
    before_cut,
    cuts,
    incomplete,
    name_of,
    standing,
    versions,
)
from trueup.lineage.restoring.stored.commits import History

Planned = tuple[Trouble, tuple[Act, ...]]

_Others = Mapping[str, tuple[str | None, tuple[KnownVersion, ...]]]
_NO_ACTS: tuple[Act, ...] = ()


@dataclass(frozen=True)
class NamesPlan:
    """Where the wardrobe will stand, all names as they will be, and where the history begins."""

    standing: BranchStanding
    ids: Mapping[str, str]
    begins: frozenset[str]
    planned: tuple[Planned, ...]


class Planning:
    """Works out one plan; `keeps_logs` says whether logs are to be kept at all."""

    def __init__(
        self,
        written: Written,
        history: History,
        is_whole: Callable[[str], bool],
        lies_here: Callable[[str], bool],
        *,
        keeps_logs: bool = True,
    ) -> None:
        self._written = written
        self._names: Names = written.names
        self._history = history
        self._is_whole = is_whole
        self._keeps_logs = keeps_logs
        self._standing = standing(self._names, history, is_whole, lies_here)

    def plan(self) -> NamesPlan:
        """Return the whole plan."""
        others = {name: self._other(name) for name in self._other_names()}
        ids = {name: each for name, (each, _) in others.items() if each is not None}
        if self._standing.branch and self._standing.tip:
            ids[self._standing.branch] = self._standing.tip
        elif self._standing.tip:
            ids[HEAD] = self._standing.tip
        begins, kept, gaps = self._cut(ids)
        history = replace(self._history, begins=begins)
        planned = [
            *self._of_head(),
            *self._of_branch(),
            *self._of_others(others),
            *gaps,
            *self._of_packed(others),
            *self._of_logs(history, [*ids.values(), *kept.values()]),
        ]
        return NamesPlan(self._standing, {**ids, **kept}, begins, tuple(planned))

    # --- HEAD and its branch ----------------------------------------------------------------------

    def _of_head(self) -> Iterator[Planned]:
        branch, head = self._standing.branch, self._names.head
        if branch is None or (head is not None and head.name == branch):
            return
        cure = Cure.FROM_LOG if self._names.log(HEAD).entries else Cure.ANEW
        text = f"ref: {branch}\n".encode()
        place = f".git/{HEAD}"
        yield Trouble(Wrong.HEAD, place, cure, reason=branch), (Aside(place), Write(place, text))

    def _of_branch(self) -> Iterator[Planned]:
        branch, tip = self._standing.branch, self._standing.tip
        if branch is None or tip is None or self._is_as_said(branch, tip):
            return
        cure = Cure.FROM_LOG if tip in self._names.logged() else Cure.FROM_HISTORY
        (version,) = versions([tip], self._names, self._history)
        lost = self._standing.lost
        yield Trouble(Wrong.BRANCH, branch, cure, version=version), _written_anew(branch, tip)
        if lost:
            yield Trouble(Wrong.VERSION, branch, Cure.GIVEN_UP, version=version, lost=lost), ()

    def _is_as_said(self, name: str, wanted: str | None) -> bool:
        return self._names.ids.get(name) == wanted and name not in self._names.damaged

    # --- the other names --------------------------------------------------------------------------

    def _other_names(self) -> list[str]:
        names = self._names
        logged = (n for n, log in names.logs.items() if n.startswith(BRANCHES) and log.newest)
        every = {*names.ids, *names.damaged, *logged, *self._written.symbolic}
        branch = self._standing.branch or ""
        # What stands below the branch's own place is in its way, and no name.
        return sorted(n for n in every - {branch} if not n.startswith(f"{branch or HEAD}/"))

    def _other(self, name: str) -> tuple[str | None, tuple[KnownVersion, ...]]:
        target = self._written.symbolic.get(name)
        if target is not None:
            return self._names.ids.get(target), ()
        return name_of(name, self._names, self._history, self._is_whole)

    def _of_others(self, others: _Others) -> Iterator[Planned]:
        for name, (wanted, lost) in others.items():
            if wanted is None:
                was = self._names.ids.get(name, "")
                acts = (Aside(f".git/{name}"),) if name in self._written.loose else _NO_ACTS
                if acts or name in self._written.packed.names:
                    yield Trouble(Wrong.NAME, name, Cure.ASIDE, reason=was), acts
            elif name not in self._written.symbolic and not self._is_as_said(name, wanted):
                (version,) = versions([wanted], self._names, self._history)
                acts = _written_anew(name, wanted)
                yield Trouble(Wrong.NAME, name, Cure.FROM_LOG, version=version), acts
                if lost:
                    told = Trouble(Wrong.VERSION, name, Cure.GIVEN_UP, version=version, lost=lost)
                    yield told, ()

    def _of_packed(self, others: _Others) -> Iterator[Planned]:
        packed, place = self._written.packed, ".git/packed-refs"
        gone = [name for name in packed.names if name in others and others[name][0] is None]
        if not packed.is_sound or gone:
            text = packed_without(packed, gone)
            finding = Trouble(Wrong.NAMES, place, Cure.ANEW)
            yield finding, (Aside(place), Write(place, text)) if text else (Aside(place),)

    # --- where the history has a gap --------------------------------------------------------------

    def _cut(self, ids: Mapping[str, str]) -> tuple[frozenset[str], dict[str, str], list[Planned]]:
        """Return where the history is to begin, the names that keep what came before, and why."""
        begins = frozenset(each for each in self._history.begins if each in self._history.commits)
        kept: dict[str, str] = {}
        gaps: list[Planned] = []
        while True:
            history = replace(self._history, begins=begins)
            starts = [*ids.values(), *kept.values()]
            found = {each for start in starts for each in cuts(start, history)}
            if not found:
                return begins, kept, gaps
            for commit in (each for each in reversed(history.in_order) if each in found):
                reached = history.reached([*starts, *kept.values()])
                before, lost = before_cut(commit, self._names, history, reached)
                name, acts = "", _NO_ACTS
                if before is not None and before not in reached:
                    name = f"{BRANCHES}before-{lost[-1][:8]}"
                    kept[name], acts = before, _written_anew(name, before)
                (version,) = versions([commit], self._names, history)
                told = versions(lost, self._names, history)
                finding = Trouble(Wrong.HISTORY, name, Cure.GIVEN_UP, version=version, lost=told)
                gaps.append((finding, acts))
            begins |= found

    # --- the logs ---------------------------------------------------------------------------------

    def _of_logs(self, history: History, starts: list[str]) -> Iterator[Planned]:
        lacking = incomplete(history, self._is_whole)
        # What lacks something is named as such, as long as the history needs it; no log need be.
        good = {*(history.commits.keys() - lacking), *history.reached(starts)}

        def is_good(commit: str | None) -> bool:
            return commit is None or commit in good

        for name, log in sorted(self._logs().items()):
            entries = [e for e in log.entries if is_good(e.old) and is_good(e.new)]
            has_gap = not log.is_sound or len(entries) != len(log.entries)
            entries += self._to_add(name, Log(tuple(entries)), history, has_gap)
            if has_gap or len(entries) != len(log.entries):
                place = f".git/logs/{name}"
                acts = (Aside(place), Write(place, log_text(entries)))
                yield Trouble(Wrong.LOG, place, Cure.ANEW), acts

    def _logs(self) -> dict[str, Log]:
        branch = self._standing.branch or HEAD
        logs = {n: log for n, log in self._names.logs.items() if not n.startswith(f"{branch}/")}
        if self._keeps_logs and self._standing.tip:
            for name in (HEAD, self._standing.branch):
                if name is not None:
                    logs.setdefault(name, Log())
        return logs

    def _to_add(self, name: str, log: Log, history: History, has_gap: bool) -> tuple[LogEntry, ...]:
        """Return what is to be noted at the end of a log: all, where it is empty."""
        tip, branch = self._standing.tip, self._standing.branch
        if tip is None or name not in (HEAD, branch):
            return ()
        if log.entries:
            is_moved = branch is not None and not self._is_as_said(branch, tip)
            is_behind = log.newest != tip and (is_moved or has_gap)
            return _noted([tip], log.newest, history) if is_behind else ()
        line = [tip]
        while above := history.parents(line[-1]):
            line.append(above[0])
        return _noted(line[::-1], None, history)


def _noted(line: list[str], before: str | None, history: History) -> tuple[LogEntry, ...]:
    text = b""
    for commit in line:
        made = history.commits.get(commit)
        if made is None:
            continue
        old = (before or "0" * len(commit)).encode()
        maker = made.maker.replace(b"\n", b" ").replace(b"\t", b" ")
        text += old + b" " + commit.encode() + b" " + maker + b"\ttrueup: restore\n"
        before = commit
    return read_log(text).entries


def _written_anew(name: str, target: str) -> tuple[Act, ...]:
    place = f".git/{name}"
    return Aside(place), Write(place, f"{target}\n".encode())
