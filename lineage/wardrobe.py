"""A wardrobe: every verb of the program, callable from Python.

    with Wardrobe.open(folder) as wardrobe:
        proposal = wardrobe.propose_steps("village-block", [change], Role.CORRECTION, "gapes")
        print(proposal.replay.patterns)
        wardrobe.record(proposal)

A verb that writes first proposes: everything is evaluated and nothing is written. `record` makes
exactly one commit of it.
"""

import datetime
from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import Any

from trueup.geometry.changes import Change
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.drawings.tracing.drawing import drawing_of
from trueup.lineage.errors import CannotStep, HandEdited, NameTaken, PieceTwice
from trueup.lineage.evaluation.evaluate import Evaluator, start_of
from trueup.lineage.files.records import BlockDraft, ConflictRecord, NodeRecord, ParentRecord, Role
from trueup.lineage.files.writing import node_text
from trueup.lineage.hand_edits.taking_up import TakenUp, TakingUp
from trueup.lineage.last_read import require_verdicts
from trueup.lineage.merging import joining as joining_step
from trueup.lineage.merging.joining import Joiner, Joining
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.replay import edits, findings
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.edits import Edit
from trueup.lineage.replay.replay import Replay, replay
from trueup.lineage.store import Commit
from trueup.lineage.trail import NODE, STEPS, UNDOES, VERB, last_step, message, trailers

__all__ = ["NODE", "STEPS", "UNDOES", "VERB", "Proposal", "Wardrobe"]


@dataclass(frozen=True)
class Proposal:
    """A step worked out to the end and not yet recorded: what it would do and write.

    `beside` are other files that the same step writes: garments, the drawing of a traced block.
    """

    base: str
    verb: str
    edit: Edit
    replay: Replay
    nodes: tuple[NodeRecord, ...]
    beside: Mapping[str, bytes] = field(default_factory=dict)


class Wardrobe(OpenWardrobe):
    """One wardrobe, open for reading and writing. Close it, or use it in a `with`."""

    # --- proposing --------------------------------------------------------------------------------

    def propose_block(self, name: str, draft: BlockDraft) -> Proposal:
        """Propose a new block drafted from measurements; raises what drafting raises."""
        edit = edits.new_block(self.state, name, draft)
        start_of(draft, self.state.unit)
        return self.propose("draft", edit)

    def propose_trace(self, name: str, draft: Draft, source: str) -> Proposal:
        """Propose a new block from what a drawing holds (`tracing.drafting.draft_from`).

        It is kept as a drawing beside the block's record; `source` is what the drawing was called.
        Raises BadName, NameTaken.
        """
        drawing = drawing_of(draft, name)
        edit = edits.new_traced_block(self.state, name, source, drawing.decode())
        path = edit.nodes[0].drawing_path
        if path in self._store.listing(self.head) or path in self._read().edited:
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

    def _require_pieces(self, parents: Sequence[ParentRecord]) -> None:
        """Refuse pieces that a parent does not have, or that two parents would give."""
        givers: dict[str, str] = {}
        for parent in parents:
            evaluator = self.evaluator_at(parent.hold) if parent.hold else self.evaluator
            there = evaluator.summary(parent.name).pieces
            for piece in there if parent.pieces is None else parent.pieces:
                if piece not in there:
                    raise NoSuchName("piece", piece, parent.name, there)
                if piece in givers:
                    raise PieceTwice(piece, givers[piece], parent.name)
                givers[piece] = parent.name

    def propose_steps(
        self, node: str, changes: Sequence[Change], role: Role, why: str = ""
    ) -> Proposal:
        """Propose changes at the end of a chain; several corrections make one fitting."""
        verb = "correct" if role is Role.CORRECTION else "style"
        read = self._read()
        edit = edits.add_steps(read.state, read.head, node, changes, role, why, _today())
        return self.propose(verb, edit)

    def propose_amend(
        self, node: str, step: str, values: Mapping[str, Any], why: str = ""
    ) -> Proposal:
        """Propose other amounts for a step of a chain."""
        return self.propose("amend", edits.amend_step(self.state, node, step, values, why))

    def propose_drop(self, node: str, step: str, why: str = "") -> Proposal:
        """Propose to take a step out of a chain."""
        return self.propose("drop", edits.drop_step(self.state, node, step, why))

    def conflict(self, conflict_id: str) -> ConflictRecord:
        """Return a conflict by its id, or what `check` finds by its; raises NoSuchConflict."""
        return findings.spoken_of(self._read().evaluator, conflict_id).conflict(conflict_id)

    def propose_decision(self, conflict: str, remedy: str, why: str = "") -> Proposal:
        """Propose to settle a conflict, or whatever `check` finds, by one of its remedies."""
        read = self._read()
        state = findings.spoken_of(read.evaluator, conflict)
        edit = edits.decide(state, read.head, conflict, remedy, why, _today())
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
        found = replay(read.evaluator, after, cause, judged_from=base if edit.judged_from else None)
        _refuse_impossible(after, edit)
        nodes = {node.name: node for node in (*edit.nodes, *found.changed)}
        self._cache.flush()
        return Proposal(read.head, verb, edit, found, tuple(nodes.values()))

    # --- recording --------------------------------------------------------------------------------

    @contextmanager
    def writing(self) -> Iterator[None]:
        """Keep other writers out while a step is proposed and recorded."""
        with self._store.writing():
            self._working = None
            yield

    def record(self, proposal: Proposal) -> str:
        """Record a proposal as one commit and return its id.

        Raises MovedOn, HandEdited (also for edits the proposal has seen but would not record), ...
        """
        if self._working and self._working.head == proposal.base and self._working.edited:
            raise HandEdited(self._working.edited)
        writes = self._written(proposal.base, proposal.nodes)
        self._working = None
        return self._store.commit(
            {**writes, **proposal.beside},
            message(proposal.edit, proposal.replay),
            trailers(proposal.verb, proposal.edit),
            expected_head=proposal.base,
        )

    def record_files(
        self, writes: Mapping[str, bytes | None], verb: str, subject: str, why: str = ""
    ) -> str:
        """Record files other than nodes (garments, photos) as one step; return its commit's id.

        Files edited by hand are refused: take them up first. Raises HandEdited, CannotWrite, ...
        """
        read = self._read()
        if read.edited:
            raise HandEdited(read.edited)
        self._working = None
        text = f"{subject}\n\n{why}" if why else subject
        return self._store.commit(writes, text, {VERB: verb}, expected_head=read.head)

    def _written(self, base: str, nodes: Sequence[NodeRecord]) -> dict[str, bytes | None]:
        """Return the files of nodes, each brought from what it holds at a commit."""
        listing = self._store.listing(base)
        standing = {node.path: listing[node.path] for node in nodes if node.path in listing}
        contents = self._store.read(standing.values())
        return {
            node.path: node_text(node, contents.get(standing.get(node.path, ""))) for node in nodes
        }

    def take_up_hand_edits(self, asked: Collection[str] = (), why: str = "") -> TakenUp | None:
        """Record edits made by hand as the maker's own step; None when there are none.

        They are joined with what was recorded since their editor was opened; the files `asked` for
        are taken as they stand. Raises as `TakingUp.take_up` does: then nothing is recorded.
        """
        self._working = None
        taking_up = TakingUp(self._store, self._loader, self.evaluator_at, self.evaluator_of)
        return taking_up.take_up(asked, why)

    # --- joining with another maker's work --------------------------------------------------------

    def propose_join(self, named: str | None = None) -> Joining | None:
        """Propose to join another version: a revision, a clone's folder, or what git fetched last.

        Without one, what git joined by itself is looked over. None where there is nothing to join
        and nothing new to note. Edits made by hand are no part of it. Raises CannotJoin,
        UnknownRevision, NotAClone, BadRecord.
        """
        joiner = self._joiner
        other = joiner.find(named)
        found = joiner.look_again() if other is None else joiner.join(other)
        self._cache.flush()
        return found

    def record_join(self, joining: Joining) -> str:
        """Record a joining as one commit and return its id; raises MovedOn, HandEdited, ..."""
        self._working = None
        return joining_step.record(self._store, joining)

    @property
    def fetched(self) -> str | None:
        """Return the commit git fetched last that still waits to be joined; None without one."""
        return self._joiner.fetched()

    @property
    def _joiner(self) -> Joiner:
        return Joiner(self._store, self._whole_at, self.evaluator_of)

    def _whole_at(self, revision: str) -> Evaluator:
        """Return the evaluator of a version; raises BadRecord where any of it cannot be read.

        What cannot be read would be taken for what was deleted.
        """
        evaluator = self.evaluator_at(revision)
        evaluator.state.require_whole()
        return evaluator

    @property
    def is_half_merged(self) -> bool:
        """Return whether git stopped in the middle of a merge here."""
        return self._store.half_merged() is not None

    def undo(self) -> Commit:
        """Take the last step back by a new one; returns the step that was taken back.

        Raises NothingToUndo.
        """
        head = self.head
        target = last_step(self._store.log(head))
        before = self._store.listing(target.parents[0])
        after = self._store.listing(target.id)
        changed = [p for p in {*before, *after} if before.get(p) != after.get(p)]
        contents = self._store.read(before[path] for path in changed if path in before)
        writes = {
            path: contents[before[path]] if path in before else None for path in sorted(changed)
        }
        self._store.commit(
            writes,
            f"Undo: {target.subject}",
            {VERB: "undo", UNDOES: target.id},
            expected_head=head,
        )
        self._working = None
        return target


def _refuse_impossible(after: Evaluator, edit: Edit) -> None:
    """A step just asked for is carried out or refused; only inherited trouble is recorded."""
    mine = {step.id for step in edit.steps}
    for problem in after.summary(edit.node).problems:
        if problem.step in mine:
            raise CannotStep(edit.node, problem.says.partition(": ")[2])


def _today() -> datetime.date:
    return datetime.date.today()
