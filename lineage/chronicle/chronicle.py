"""The history of a wardrobe as entries, newest first, and what only the whole of it can tell."""

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property

from trueup.lineage.chronicle.effects import steps_changed
from trueup.lineage.chronicle.entry import DECIDE, Decided, Entry
from trueup.lineage.chronicle.selection import Selection
from trueup.lineage.chronicle.span import ALL, Span
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.few_enough import few_enough
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.store import Commit
from trueup.lineage.trail import EDIT, STEPS, UNDOES, VERB


class Chronicle:
    """The history of an open wardrobe, up to its latest version or an earlier one.

    Histories that were joined are walked in full, by date. Nothing is evaluated but what is asked
    of an entry.
    """

    def __init__(
        self, wardrobe: OpenWardrobe, until: str = "HEAD", now: Evaluator | None = None
    ) -> None:
        self.wardrobe = wardrobe
        self.until = until
        self._now = now
        self._entries: dict[str, Entry] = {}
        self._met: dict[str, str | None] = {}

    @cached_property
    def now(self) -> Evaluator:
        """Return the evaluator of the version it ends with, or of edits made by hand after it."""
        return self._now or self.wardrobe.evaluator_at(self.until)

    def at(self, commit: str) -> Evaluator:
        """Return the evaluator of a commit by its full id; only the latest ones stay at hand."""
        return self.wardrobe.evaluator_at(commit)

    def entry(self, commit: Commit) -> Entry:
        """Return the entry of a commit, always the same one."""
        return self._entries.setdefault(commit.id, Entry(commit, self))

    def find(self, commit: str) -> Entry | None:
        """Return the entry of a commit by its full id; None where it is not part of the history."""
        index = self._places.get(commit)
        return None if index is None else self.entry(self.commits[-1 - index])

    def entries(self, span: Span = ALL, selections: Sequence[Selection] = ()) -> Iterator[Entry]:
        """Yield the entries in a span that every selection takes, newest first.

        Raises TooManyVersions where too many would have to be measured to tell.
        """
        found = self._touching(span, selections)
        if any(each.is_measured for each in selections):
            found = few_enough(found)
        return (e for e in found if all(each.keeps(e) for each in selections))

    def _touching(self, span: Span, selections: Sequence[Selection]) -> Iterator[Entry]:
        until = self.until if span.until == "HEAD" else span.until
        paths = selections[0].only_paths if len(selections) == 1 else None
        chosen = [] if paths else [each.commits(self.wardrobe, until) for each in selections]
        for commit in self.wardrobe.history(paths or (), until=until, beyond=span.beyond):
            if until == self.until:
                self._meet(commit)
            if span.holds(commit) and all(commit.id in each for each in chosen):
                yield self.entry(commit)

    @cached_property
    def commits(self) -> tuple[Commit, ...]:
        """Return every commit of the history, newest first."""
        return tuple(self.wardrobe.history(until=self.until))

    @cached_property
    def _places(self) -> dict[str, int]:
        oldest_first = reversed(self.commits)
        return {commit.id: place for place, commit in enumerate(oldest_first)}

    def place(self, commit: str) -> int:
        """Return the place of a commit in the history, the first being 0; -1 for a foreign one."""
        return self._places.get(commit, -1)

    def _meet(self, commit: Commit) -> None:
        """Note a commit of a walk that began at the end, and which one took it back.

        That one was met before: it came later, and touched the same files.
        """
        self._met.setdefault(commit.id, None)
        if UNDOES in commit.trailers:
            self._met[commit.trailers[UNDOES]] = commit.id

    def taken_back_by(self, commit: str) -> str | None:
        """Return the commit that took one back, by their full ids; None where none did."""
        return self._met[commit] if commit in self._met else self.taken_back.get(commit)

    @cached_property
    def taken_back(self) -> dict[str, str]:
        """Return, for each commit that was taken back, the one that did so."""
        undoing = self.wardrobe.history(until=self.until, trailer=UNDOES)
        return {c.trailers[UNDOES]: c.id for c in undoing if UNDOES in c.trailers}

    @cached_property
    def decisions(self) -> tuple[Decided, ...]:
        """Return every decision ever made, oldest first."""
        made = [c for c in reversed(self.commits) if c.trailers.get(VERB) == DECIDE]
        return tuple(each for commit in made for each in self._decided(self.entry(commit)))

    @cached_property
    def first_recorded(self) -> Mapping[str, Commit]:
        """Return, for each step by its id, the commit that first recorded it."""
        return {step: commit for commit in self.commits for step in self._steps_of(commit)}

    def _steps_of(self, commit: Commit) -> tuple[str, ...]:
        if STEPS in commit.trailers:
            return tuple(commit.trailers[STEPS].split())
        entry = self.entry(commit)
        if entry.verb != EDIT or entry.states is None:
            return ()
        before, after = entry.states[0].nodes if entry.states[0] else {}, entry.states[1].nodes
        edited = (steps_changed(before.get(name), after.get(name)) for name in entry.nodes_edited)
        return tuple(step.id for steps in edited for step in steps)

    def _decided(self, entry: Entry) -> Iterator[Decided]:
        states = entry.states
        if states is None or states[0] is None or entry.node in states[0].lost_nodes:
            return
        before, after = (state.nodes.get(entry.node) for state in states if state)
        known = {record.id: len(record.decisions) for record in before.conflicts} if before else {}
        for record in after.conflicts if after else ():
            for decision in record.decisions[known.get(record.id, 0) :]:
                taken_back = entry.commit.id in self.taken_back
                yield Decided(entry.commit, record, decision, taken_back)
