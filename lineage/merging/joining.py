"""Join another version of a wardrobe with ours: read both, merge, look over, say what to write."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.few_enough import few_enough
from trueup.lineage.files.records import ConflictRecord
from trueup.lineage.files.state import State
from trueup.lineage.files.writing import node_text
from trueup.lineage.merging.files import Versions, files_of
from trueup.lineage.merging.looking_over import JoinSide, LookedOver, look_over
from trueup.lineage.merging.states import Merged, merge_states
from trueup.lineage.merging.three_way import Note, Sides
from trueup.lineage.recordable import Standing
from trueup.lineage.store import Commit, Store
from trueup.lineage.store.joins.merge_errors import CannotJoin
from trueup.lineage.trail import VERB

JOINS = "Joins"
MEND = "mend"


@dataclass(frozen=True)
class Joining:
    """Two versions joined to the end and not yet recorded; a `Recordable`.

    `theirs` is the commit that is joined; where the joining was done before by git alone and is
    only looked over, `is_recorded` is true. `conflicts` are those that are open now and were not
    on our side, `contradictions` those among them where the makers contradict each other.
    """

    ours: str
    theirs: str
    sides: Sides
    notes: tuple[Note, ...]
    looked_over: LookedOver
    files: Mapping[str, bytes | None]
    is_recorded: bool = False
    contradictions: tuple[ConflictRecord, ...] = ()
    conflicts: tuple[ConflictRecord, ...] = ()

    @property
    def subject(self) -> str:
        """Return what was done, as the history says it."""
        if self.is_recorded:
            return f"Note the conflicts that joining {self.theirs[:10]} brought"
        return f"Join the work of {self.sides.theirs}"

    @property
    def base(self) -> str:
        """Return our version."""
        return self.ours

    @property
    def joins(self) -> str | None:
        """Return the commit that is joined, None where that is done already."""
        return None if self.is_recorded else self.theirs

    @property
    def message(self) -> str:
        """Return what was joined, and what it brought."""
        lines = [f"{note.what}: {note.place}: {note.says}" for note in self.notes]
        found = (*self.contradictions, *self.conflicts)
        lines += [f"conflict {each.id} at {each.arose_at}" for each in found]
        return "\n".join([self.subject, "", *lines]) if lines else self.subject

    @property
    def trailers(self) -> Mapping[str, str]:
        """Return which commit was joined."""
        return {VERB: MEND, JOINS: self.theirs}

    def writes(self, standing: Standing) -> Mapping[str, bytes | None]:  # noqa: ARG002
        """Return the files it changes in our version."""
        return self.files


@dataclass(frozen=True)
class Joiner:
    """Joins versions of one wardrobe; reads everything through what it is given."""

    store: Store
    evaluator_at: Callable[[str], Evaluator]
    evaluator_of: Callable[[State], Evaluator]

    def find(self, named: str | None) -> str | None:
        """Return the commit to join: a revision, a clone's latest, or what git fetched last.

        None where there is nothing that is not part of ours already. Raises UnknownRevision,
        NotAClone.
        """
        head = self.store.head()
        other = self._named(named)
        if other is None or self.store.merge_bases(head, other) == (other,):
            return None
        return other

    def _named(self, named: str | None) -> str | None:
        half = self.store.half_merged()
        if half is not None and named is None:
            return half
        if named is None:
            return self.store.last_fetched()
        if (Path(named) / ".git").exists():
            return self.store.latest_of(Path(named))
        return self.store.resolve(named)

    def join(self, theirs: str) -> Joining:
        """Return another version joined with ours. Raises CannotJoin, BadRecord."""
        ours = self.store.head()
        bases = self.store.merge_bases(ours, theirs)
        if not bases:
            raise CannotJoin(
                theirs[:10],
                "it has no version in common with this wardrobe",
                "join only clones of one wardrobe",
            )
        here, there = (
            JoinSide(ours, self.evaluator_at(ours)),
            JoinSide(theirs, self.evaluator_at(theirs)),
        )
        sides = Sides(self._maker(ours), self._maker(theirs))
        merged = merge_states(self._base(bases), here.evaluator.state, there.evaluator.state, sides)
        found = look_over(
            here, there, merged.state, self.evaluator_of, [q.arose_at for q in merged.questions]
        )
        versions = Versions(self.store, bases[0], ours, theirs)
        writes, said = files_of(versions, found.state)
        return _joining(here, theirs, sides, merged, found, writes, said)

    def look_again(self) -> Joining | None:
        """Return what joinings brought that git made by itself; None where nothing is new."""
        head = self.store.head()
        here = self.evaluator_at(head)
        for merge in few_enough(self._merges_by_git()):
            first, second = (JoinSide(each, self.evaluator_at(each)) for each in merge.parents[:2])
            found = look_over(first, second, here.state, self.evaluator_of)
            changed = [
                node for name, node in found.state.nodes.items() if node != here.state.nodes[name]
            ]
            if changed:
                listing = self.store.listing(head)
                texts = self.store.read({listing[node.path] for node in changed})
                writes = {n.path: node_text(n, texts[listing[n.path]]) for n in changed}
                sides = Sides(_label(merge), _label(merge))
                nothing = Merged(here.state, (), ())
                side = JoinSide(head, here)
                return _joining(side, merge.id, sides, nothing, found, writes, (), recorded=True)
        return None

    def _merges_by_git(self) -> list[Commit]:
        """Return the joinings git made that were not looked over yet, newest first."""
        looked_over: set[str] = set()
        found = []
        for commit in self.store.log():
            if commit.trailers.get(VERB) == MEND:
                looked_over.add(commit.trailers.get(JOINS, ""))
            elif len(commit.parents) > 1 and commit.id not in looked_over:
                found.append(commit)
        return found

    def _base(self, bases: tuple[str, ...]) -> State:
        """Return the wardrobe both sides come from; where there are several, those joined."""
        first = self.evaluator_at(bases[0]).state
        for index, other in enumerate(bases[1:], 1):
            below = self.store.merge_bases(bases[index - 1], other)
            if not below:
                return first
            common = self._base(below)
            first = merge_states(common, first, self.evaluator_at(other).state).state
        return first

    def _maker(self, commit: str) -> str:
        """Return who made the last step of a version, and which commit it is."""
        return _label(next(iter(self.store.log(commit))))


def _label(commit: Commit) -> str:
    return f"{commit.author.partition(' <')[0]} ({commit.id[:10]})"


def _joining(
    here: JoinSide,
    theirs: str,
    sides: Sides,
    merged: Merged,
    found: LookedOver,
    writes: Mapping[str, bytes | None],
    said: tuple[Note, ...],
    *,
    recorded: bool = False,
) -> Joining:
    was_open = {conflict.id for conflict in here.evaluator.state.open_conflicts}
    asked = {question.id for question in merged.questions}
    now = [each for each in found.state.open_conflicts if each.id not in was_open]
    return Joining(
        here.commit,
        theirs,
        sides,
        (*merged.notes, *said),
        found,
        writes,
        recorded,
        tuple(each for each in now if each.id in asked),
        tuple(each for each in now if each.id not in asked),
    )
