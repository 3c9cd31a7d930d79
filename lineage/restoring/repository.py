"""Look over all that git keeps of a wardrobe, and plan what makes it whole; nothing is written."""

from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from trueup.lineage.errors import CannotRead, Damaged
from trueup.lineage.restoring import litter, plain
from trueup.lineage.restoring.acts import Act, Aside, Bring, Write
from trueup.lineage.restoring.clone import Clone, opened
from trueup.lineage.restoring.errors import BeyondRestoring
from trueup.lineage.restoring.findings import Cure, Help, KnownVersion, Trouble, Wrong
from trueup.lineage.restoring.named import index, settings, unfinished
from trueup.lineage.restoring.named.begins import BEGINS, Begins
from trueup.lineage.restoring.named.letters import letters_of
from trueup.lineage.restoring.named.names import BRANCHES
from trueup.lineage.restoring.named.planning import NamesPlan, Planning
from trueup.lineage.restoring.named.reading import Written, plain_content, read_names
from trueup.lineage.restoring.named.standing import HEAD, BranchStanding
from trueup.lineage.restoring.stored.bench import Bench, bench
from trueup.lineage.restoring.stored.deriving import derive
from trueup.lineage.restoring.stored.gathering import PLACE, Gathered, gather
from trueup.lineage.restoring.stored.known import Known
from trueup.lineage.restoring.stored.missing import is_complete, needs
from trueup.lineage.restoring.working.lying import lies_as
from trueup.lineage.store.git.objects import list_tree, look_up

Planned = tuple[Trouble | None, tuple[Act, ...]]

_FEW = 3
"""Things of a kind that are told one by one; more are told as a number."""


@dataclass(frozen=True)
class Plan:
    """What is wrong in git's folder and what is to be done, and the version that will stand.

    `step` is what is to become of a step on its way that can no longer be made out, last of all. On
    the bench `made` the version can be read until the plan is let go.
    """

    planned: tuple[Planned, ...] = ()
    step: tuple[Planned, ...] = ()
    made: Bench | None = None
    tip: str | None = None

    @property
    def findings(self) -> tuple[Trouble, ...]:
        """Return what is wrong."""
        return tuple(f for f, _ in (*self.planned, *self.step) if f is not None)


@contextmanager
def planned(folder: Path, clone: Path | None, now: float) -> Iterator[Plan]:
    """Look over git's folder; `clone` is another clone of the wardrobe, `now` the time in s.

    Raises `CannotWrite` without room for temporary files, `GitMissing`, `BeyondRestoring`.
    """
    git_dir = folder / ".git"
    lying = tuple(plain.lying_in(git_dir))
    closed = tuple((finding, (act,)) for finding, act in plain.closed(git_dir, lying))
    if closed:
        # What may not be read cannot be judged: that comes first, and then all is looked at again.
        yield Plan(closed)
        return
    with ExitStack() as benches:
        letters = letters_of(git_dir, lying)
        made = benches.enter_context(bench(letters))
        there = benches.enter_context(opened(clone, letters)) if clone else None
        try:
            plan = _Look(folder, lying, made, there, now).plan()
        except CannotRead:
            raise
        except Damaged as error:
            raise BeyondRestoring(str(git_dir), str(error.reason)) from error
        yield plan


class _Look:
    """One look over git's folder."""

    def __init__(
        self,
        folder: Path,
        lying: tuple[plain.GitEntry, ...],
        made: Bench,
        there: Clone | None,
        now: float,
    ) -> None:
        self._folder = folder
        self._git_dir = folder / ".git"
        self._lying = lying
        self._made = made
        self._there = there
        self._now = now
        self._files = {f".git/{each.path}" for each in lying if each.is_file}
        self._begins = Begins(self._read(BEGINS))

    def _read(self, place: str) -> bytes | None:
        return plain_content(self._folder / place) if place in self._files else None

    def plan(self) -> Plan:
        """Return what is wrong, and what is to be done."""
        crooked = [(f, (act,)) for f, act in plain.plainness(self._lying)]
        left = list(litter.litter(self._folder, self._lying, self._now))
        gathered = gather(self._made, self._git_dir / "objects", self._made.letters)
        written = read_names(self._git_dir, self._lying)
        keeps_logs = settings.keeps_logs(self._made, self._read(".git/config"))
        self._begins.lay_out(self._made, self._begins.recorded)
        tip = self._soundly_at(written, keeps_logs)
        if tip and not gathered.planned and not (self._there and self._begins.recorded):
            stored: list[Planned] = []
            has_moved = False
        else:
            plan, stored = self._put_right(written, gathered, keeps_logs)
            tip, has_moved = plan.tip, bool(plan.lost)
        step = tuple(unfinished.of_step(self._git_dir, unfinished.STEP in self._files))
        rest = [*self._of_settings(), *self._of_index(tip, has_moved), *self._of_merge()]
        return Plan((*crooked, *left, *stored, *rest), step, self._made, tip)

    # --- where nothing is wrong, this is all ------------------------------------------------------

    def _soundly_at(self, written: Written, keeps_logs: bool) -> str | None:
        """Return the latest version, if every name and log can be read and nothing is missing."""
        names = written.names
        head = names.head
        if head is None or names.damaged or not written.packed.is_sound:
            return None
        tip = names.latest
        needed = [HEAD, *([head.name] if head.name else [])] if keeps_logs else []
        logs = names.logs
        if not all(log.is_sound for log in logs.values()) or not all(
            name in logs and logs[name].entries for name in needed
        ):
            return None
        if set(logs) - {HEAD} - set(names.ids) - set(written.symbolic):
            return None
        if any(target not in names.ids for target in written.symbolic.values()):
            return None
        branches = [each for name, each in names.ids.items() if name.startswith(BRANCHES)]
        if not tip or not is_complete(self._made.git, names.starts()):
            return None
        return tip if self._are_all({tip, *branches}, "commit") else None

    # --- what is stored, and what stands for what -------------------------------------------------

    def _put_right(
        self, written: Written, gathered: Gathered, keeps_logs: bool
    ) -> tuple[BranchStanding, list[Planned]]:
        made, there, names = self._made, self._there, written.names
        starts = names.starts()
        # Of a clone the history before a gap is wanted as well.
        old = frozenset() if there else self._begins.recorded
        self._begins.lay_out(made, old)
        in_clone = there.things if there else None
        known, found = derive(made, self._folder, starts, old, in_clone)
        if there and there.latest and names.latest not in known.history.commits:
            starts = [*starts, there.latest]
            known, more = derive(made, self._folder, starts, old, in_clone)
            found |= more
        lacking = known.missing | known.broken.keys()

        def is_whole(commit: str) -> bool:
            at = known.history.commits.get(commit)
            return at is not None and at.tree not in lacking

        def lies_here(commit: str) -> bool:
            return lies_as(self._folder, list_tree(made.git, commit))

        plan = Planning(written, known.history, is_whole, lies_here, keeps_logs=keeps_logs).plan()
        self._begins.lay_out(made, plan.begins)
        stored = [
            *self._of_things(gathered, found),
            *plan.planned,
            *self._begins.becoming(plan.begins),
            *self._of_what_lacks(known, plan),
        ]
        return plan.standing, stored

    def _of_things(self, gathered: Gathered, found: dict[str, Cure]) -> Iterator[Planned]:
        """Yield the damaged files, those of them that were found again, and what was missing."""
        told: list[Planned] = []
        seen = set()
        for finding, acts in gathered.planned:
            object_id = finding.place.removeprefix(PLACE).replace("/", "") if finding else ""
            if finding and object_id in found:
                seen.add(object_id)
                told.append((replace(finding, cure=found[object_id]), acts))
            else:
                told.append((finding, acts))
        for object_id, cure in found.items():
            if object_id not in seen:
                place = f"{PLACE}/{object_id[:2]}/{object_id[2:]}"
                told.append((Trouble(Wrong.LACKING, place, cure), ()))
        yield from _in_short(told)
        brought = tuple(
            Bring(file, f"{PLACE}/{file.parent.name}/{file.name}") for file in self._made.made()
        )
        yield None, brought

    def _of_what_lacks(self, known: Known, plan: NamesPlan) -> Iterator[Planned]:
        """Yield what is still missing, of the versions that will be part of the history."""
        if plan.standing.tip is None:
            finding = Trouble(Wrong.EMPTY, ".git", help=Help.CLONE, lost=plan.standing.lost)
            yield finding, ()
        history = replace(known.history, begins=plan.begins)
        reached = [c for c in history.reached(plan.ids.values()) if c in history.commits]
        for need in needs(history, reached, known.missing, known.broken):
            made = history.commits[need.commits[-1]]
            yield (
                Trouble(
                    Wrong.CONTENT,
                    need.path,
                    help=Help.CLONE,
                    reason="list" if need.is_list else "",
                    version=KnownVersion(made.id, made.when, made.subject),
                    count=len(need.commits),
                ),
                (),
            )

    # --- what stands beside -----------------------------------------------------------------------

    def _of_settings(self) -> Iterator[Planned]:
        place = ".git/config"
        content = self._read(place)
        if not settings.are_usable(self._made, content):
            new = settings.put_right(self._made, content)
            yield Trouble(Wrong.SETTINGS, place, Cure.ANEW), (Aside(place), Write(place, new))

    def _of_index(self, tip: str | None, is_moved: bool) -> Iterator[Planned]:
        place = ".git/index"
        is_usable = place in self._files and index.is_usable(self._made, self._folder / place)
        if tip is None or (is_usable and not is_moved):
            return
        new = index.list_of(self._made, tip)
        if new is not None:
            acts = (Aside(place), Bring(new, place))
            yield (None if is_usable else Trouble(Wrong.INDEX, place, Cure.ANEW)), acts

    def _of_merge(self) -> Iterator[Planned]:
        def is_version(object_id: str) -> bool:
            return self._are_all([object_id], "commit", "tag")

        return unfinished.of_merge(self._read, is_version)

    def _are_all(self, ids: Iterable[str], *kinds: str) -> bool:
        found = look_up(self._made.git, ids)
        return all(each is not None and each.kind in kinds for each in found)


def _in_short(told: Iterable[Planned]) -> Iterator[Planned]:
    """Yield what is told, many things of one kind as one."""
    kinds: dict[tuple[object, ...], list[Planned]] = {}
    for finding, acts in told:
        key = (finding.wrong, finding.cure) if finding else ()
        kinds.setdefault(key, []).append((finding, acts))
    for each in kinds.values():
        first = each[0][0]
        if first is None or len(each) <= _FEW or first.wrong not in (Wrong.OBJECT, Wrong.LACKING):
            yield from each
        else:
            acts = tuple(act for _, some in each for act in some)
            yield replace(first, place=PLACE, count=len(each)), acts
