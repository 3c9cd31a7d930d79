"""A wardrobe open for steps: one on its blocks and patterns is proposed, any step is recorded.

    with WritableWardrobe.open(folder) as wardrobe:
        step = wardrobe.carry_out(lambda it: it.propose_drop("blouse", "9a12d67f"))

Proposing evaluates everything and writes nothing; recording makes exactly one commit.
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any, Self, TypeVar

from trueup.geometry.changes import Change
from trueup.geometry.changes.on_side import names_a_side, on_its_side
from trueup.geometry.changes.usual import beyond_usual
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.sides.naming import shared_names
from trueup.lineage.errors import (
    CannotStep,
    EditsBehind,
    HandEdited,
    NameTaken,
    PieceTwice,
    WorkingFilesBehind,
)
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.starting import start_of
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import BlockDraft, ParentRecord, Role, Settings
from trueup.lineage.files.writing import settings_text
from trueup.lineage.hand_edits.taking_up import TakenUp, TakingUp
from trueup.lineage.last_read import require_verdicts
from trueup.lineage.loading import SETTINGS_FILE
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.proposal import Proposal
from trueup.lineage.recordable import Recordable, Recorded
from trueup.lineage.replay import edits, findings
from trueup.lineage.replay.around import around
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.drafted_anew.edit import for_body, remeasure
from trueup.lineage.replay.drafted_anew.for_body import ForBody
from trueup.lineage.replay.drafted_anew.measurements import remeasured
from trueup.lineage.replay.edits import Edit
from trueup.lineage.replay.replay import Became, replay
from trueup.lineage.replay.taken_over import grafts
from trueup.lineage.sizes.run import make_sizes
from trueup.lineage.sizes.table import Size
from trueup.lineage.store import Store
from trueup.lineage.store.writing.recorded import say_only_edits

StepT = TypeVar("StepT", bound=Recordable)
Tell = Callable[[Recorded[TakenUp]], None]


def say_nothing(_: Recorded[TakenUp]) -> None:
    """Keep quiet about edits by hand that became a step."""


Called = Mapping[str, str] | None


class WritableWardrobe(OpenWardrobe):
    """One wardrobe, open for reading and for steps. Close it, or use it in a `with`.

    `became`, where it is set, is told what becomes of a step in each descendant while it is worked
    out; it may raise to give that up.
    """

    became: Became | None = None

    # --- starting ---------------------------------------------------------------------------------

    @classmethod
    def start(cls, folder: Path, name: str, unit: str) -> Self:
        """Start a wardrobe in a new or empty folder; raises FolderNotEmpty, CannotWrite."""
        files = {SETTINGS_FILE: settings_text(Settings(name, unit))}
        return cls(Store.create(folder, files, f"Start the wardrobe {name}"), folder)

    # --- proposing --------------------------------------------------------------------------------

    def propose_block(self, name: str, draft: BlockDraft, wish: ForBody | None = None) -> Proposal:
        """Propose a new block drafted from measurements; raises what drafting raises.

        With a `wish`, those that are not given are taken from a body's set. Raises NoSuchBody,
        NothingMeasured, FollowsABody.
        """
        drafted_for = None
        if wish is not None:
            draft, drafted_for = for_body(self.state, name, draft, wish)
        edit = edits.new_block(self.state, name, draft, drafted_for)
        start_of(draft, self.state.unit)
        return self.propose("draft", edit)

    def propose_trace(self, name: str, draft: Draft, source: str) -> Proposal:
        """Propose a new block from what a drawing holds (`tracing.drafting.draft_from`).

        It is kept as a drawing beside the block's record; `source` is what the drawing was called.
        Raises BadName, NameTaken.
        """
        from trueup.lineage.drawings.tracing.drawing import drawing_of  # noqa: PLC0415  (slow)

        drawing = drawing_of(draft, name)
        edit = edits.new_traced_block(self.state, name, source, drawing.decode())
        path = edit.nodes[0].drawing_path
        if path in self._store.listing(self.head) or path in self.edited:
            raise NameTaken(name, path)
        return replace(self.propose("trace", edit), beside={path: drawing})

    def propose_child(
        self, name: str, parents: Sequence[ParentRecord], *, is_block: bool = False
    ) -> Proposal:
        """Propose a node derived from one parent, or from pieces of several."""
        held = tuple(
            ParentRecord(p.name, p.pieces, self._store.resolve(p.hold) if p.hold else None)
            for p in parents
        )
        edit = edits.new_child(self.state, name, held, is_block)
        self._require_pieces(held)
        return self.propose("derive", edit)

    def propose_graft(
        self, pattern: str, block: ParentRecord, name: str, why: str = "", called: Called = None
    ) -> Proposal:
        """Propose a pattern of one's style and another's fit, which is `called` otherwise."""
        edit = grafts.graft(self.evaluator, name, pattern, block, why, called)
        self._require_pieces([block])
        return self.propose("graft", edit)

    def propose_sizes(
        self, node: str, table: Sequence[Size], place: str, why: str = ""
    ) -> Proposal:
        """Propose the sizes of a node that a table has, those that are there measured anew.

        `place` is how the table is called in a message. Raises NoOneBody, BadTable, NameTaken.
        """
        return self.propose("sizes", make_sizes(self.state, node, table, place, why))

    def _require_pieces(self, parents: Sequence[ParentRecord]) -> None:
        """Refuse pieces that a parent does not have, or that two parents would give."""
        givers: dict[str, str] = {}
        for parent in parents:
            evaluator = self.evaluator_at(parent.hold) if parent.hold else self.evaluator
            summary = evaluator.summary(parent.name)
            there = shared_names([summary.own_name(piece) for piece in summary.pieces])
            known = shared_names([summary.own_name(piece) for piece in summary.told_of])
            for piece in there if parent.pieces is None else parent.pieces:
                own = summary.own_name(piece)
                if own not in known:
                    called = tuple(map(summary.as_called, there))
                    raise NoSuchName("piece", piece, parent.name, called)
                if own in givers:
                    raise PieceTwice(piece, givers[own], parent.name)
                givers[own] = parent.name

    def propose_steps(
        self, node: str, changes: Sequence[Change], role: Role, why: str = ""
    ) -> Proposal:
        """Propose changes at the end of a chain; several corrections make one fitting."""
        verb = "correct" if role is Role.CORRECTION else "style"
        read = self._read()
        if any(map(names_a_side, changes)) and read.state.has(node):
            draft = read.evaluator.draft(node)
            changes = [on_its_side(change, draft) for change in changes]
        edit = edits.add_steps(read.state, read.head, node, changes, role, why, date.today())
        found = self.propose(verb, edit)
        return replace(found, beyond=tuple(b for each in changes for b in beyond_usual(each)))

    def propose_amend(
        self, node: str, step: str, values: Mapping[str, Any], why: str = ""
    ) -> Proposal:
        """Propose other amounts for a step of a chain."""
        known = around(self.evaluator, node)
        edit = edits.amend_step(self.state, node, step, values, why, known)
        body = self.evaluator.body(node)
        changes = [change_of(each, self.state.unit, body) for each in edit.steps]
        found = self.propose("amend", edit)
        return replace(found, beyond=tuple(b for each in changes for b in beyond_usual(each)))

    def propose_remeasure(
        self, block: str, body: Mapping[str, str], why: str = "", wish: ForBody | None = None
    ) -> Proposal:
        """Propose to draft a block anew from measurements taken anew, by name; its steps stay.

        Without any, or with a `wish`, they are taken from a body's set. Raises as `remeasure` does.
        """
        read = self._read()
        edit = remeasure(read.state, block, body, why, wish, head=read.head, date=date.today())
        return self.propose("remeasure", edit)

    def propose_drop(self, node: str, step: str, why: str = "") -> Proposal:
        """Propose to take a step out of a chain."""
        known = around(self.evaluator, node)
        return self.propose("drop", edits.drop_step(self.state, node, step, why, known))

    def propose_decision(self, conflict: str, remedy: str, why: str = "") -> Proposal:
        """Propose to settle a conflict, or whatever `check` finds, by one of its remedies."""
        read = self._read()
        state = findings.spoken_of(read.evaluator, conflict)
        edit = edits.decide(
            state,
            read.head,
            conflict,
            remedy,
            why,
            date.today(),
            lambda node: around(read.evaluator, node),
        )
        return self.propose("decide", edit)

    def propose(self, verb: str, edit: Edit) -> Proposal:
        """Work an edit of nodes out to the end: replay it, and refuse what cannot be carried out.

        Raises CannotStep for a step of the edit that the geometry cannot take, VerdictUnknown
        where it would reach a node that cannot be read.
        """
        require_verdicts(self, (node.name for node in edit.nodes))
        read = self._read()
        after = self.evaluator_of(read.state.with_nodes(edit.nodes))
        cause = Cause(edit.node, edit.steps, read.head, is_style=edit.is_style)
        base = self.evaluator_of(read.state.with_nodes(edit.judged_from))
        before, start = read.evaluator, base if edit.judged_from else None
        found = replay(before, after, cause, judged_from=start, anew=edit.anew, became=self.became)
        _refuse_impossible(after, edit)
        nodes = {node.name: node for node in (*edit.nodes, *found.changed)}
        self._cache.flush()
        old, new = (state.nodes.get(edit.node) for state in (read.state, after.state))
        taken_anew = remeasured(old, new, read.state.unit)
        return Proposal(read.head, verb, edit, found, tuple(nodes.values()), taken_anew)

    # --- recording --------------------------------------------------------------------------------

    @contextmanager
    def writing(self) -> Iterator[None]:
        """Keep other writers out while a step is proposed and recorded."""
        with self._store.writing():
            self._see_again()
            yield

    def carry_out(
        self, propose: Callable[[Self], StepT], tell: Tell = say_nothing
    ) -> Recorded[StepT]:
        """Propose a step and record it, with no other writer between.

        The maker's own edits become a step of their own before it, of which `tell` is told at
        once; where the step cannot be made, neither is recorded. Raises what `propose` and
        `record` raise, and EditsBehind where only the edits were recorded.
        """
        with self.writing():
            step = propose(self)
            if self.take_up_first(tell):
                step = propose(self)
            return Recorded(step, self.record(step))

    def record(self, step: Recordable) -> str:
        """Record a step that was worked out as one commit, and return its id.

        Raises MovedOn, HandEdited (also for edits the step has seen but would not record), ...
        """
        if self._working and self._working.head == step.base and self._working.edited:
            raise HandEdited(self.edited)
        return self._commit(step)

    def _commit(self, step: Recordable) -> str:
        writes = step.writes(lambda paths: self.files(paths, step.base))
        self._working = None
        store, joins = self._store, step.joins
        commit = partial(store.commit_merge, joins=joins) if joins else store.commit
        told = (writes, step.message, step.trailers)
        self._recorded = commit(*told, expected_head=step.base)
        return self._recorded

    # --- edits by hand ----------------------------------------------------------------------------

    def take_up_hand_edits(
        self, asked: Collection[str] = (), why: str = ""
    ) -> Recorded[TakenUp] | None:
        """Record edits made by hand as the maker's own step; None when there are none.

        They are joined with what was recorded since their editor was opened; the files `asked` for
        are taken as they stand. Raises as `TakingUp.propose` does: then nothing is recorded.
        """
        self._working = None
        taking_up = TakingUp(self._store, self._loader, self.evaluator_at, self.evaluator_of)
        taken = taking_up.propose(asked, why)
        if taken is None:
            return None
        # First the files on the disk: a kill between the two leaves an edit of the latest version.
        for each in taken.brought:
            self._store.rewrite(each.path, each.before, each.content)
        commit = self._commit(taken)
        say_only_edits(commit)
        return Recorded(taken, commit)

    def take_up_first(self, tell: Tell) -> bool:
        """Take up edits before a step, and return whether there were any.

        Raises EditsBehind where their files could not follow, which stops the step.
        """
        try:
            taken = self.take_up_hand_edits()
        except WorkingFilesBehind as error:
            raise EditsBehind(error.place, error.reason, error.commit) from error
        if taken is None:
            return False
        tell(taken)
        return True


def _refuse_impossible(after: Evaluator, edit: Edit) -> None:
    """A step just asked for is carried out or refused; only inherited trouble is recorded."""
    mine = {step.id for step in edit.steps}
    for problem in after.summary(edit.node).problems:
        if problem.step in mine:
            raise CannotStep(edit.node, problem.error)
