"""A wardrobe: every verb of the program, callable from Python.

    with Wardrobe.open(folder) as wardrobe:
        proposal = wardrobe.propose_steps("village-block", [change], Role.CORRECTION, "gapes")
        print(proposal.replay.patterns)
        wardrobe.record(proposal)

A verb that writes first proposes: everything is evaluated and nothing is written. `record` makes
exactly one commit of it; `carry_out` does both, with no other writer between, and takes up the
maker's own edits first. Each verb is a function of the room it belongs to; they stand together
here, and whoever needs one room alone asks that.
"""

import datetime
from collections.abc import Sequence
from pathlib import Path

from trueup.geometry.cloth.cut_cloth import LEAST
from trueup.lineage.bodies.recording import MeasuredNow, Recording, record
from trueup.lineage.chronicle import Chronicle
from trueup.lineage.chronicle.audit import Audit, audit
from trueup.lineage.chronicle.chain import Explanation, explain
from trueup.lineage.chronicle.span import ALL, Span
from trueup.lineage.diagnosis.diagnose import Diagnosis, diagnose, diagnose_note
from trueup.lineage.diagnosis.fit_from import Fit, fit_from
from trueup.lineage.diagnosis.pinned import Pin
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.faults.causes import Causes, causes
from trueup.lineage.faults.inquiry import Inquiry
from trueup.lineage.faults.shared import SharedFault, fault_of_place, faults_of_garment
from trueup.lineage.files.garment_records import GarmentRecord, Status
from trueup.lineage.garments import cutting, forgetting, mending, notes, wearing, whose
from trueup.lineage.garments.alteration import asked_of
from trueup.lineage.garments.answers import Alteration
from trueup.lineage.garments.filing import Filing
from trueup.lineage.garments.since import Since, since
from trueup.lineage.joinable import JoinableWardrobe
from trueup.lineage.promotion.amounts import Wish
from trueup.lineage.promotion.promoting import Promotion, propose_promotion
from trueup.lineage.proposal import Proposal
from trueup.lineage.restoring.findings import Restored
from trueup.lineage.restoring.restoring import restore
from trueup.lineage.undoing import Undoing, propose_undo

_AS_IT_IS = Wish()


class Wardrobe(JoinableWardrobe):
    """One wardrobe and all its verbs. Close it, or use it in a `with`."""

    @staticmethod
    def restore(folder: Path, *, clone: Path | None = None, preview: bool = False) -> Restored:
        """Look over a wardrobe that may not even open, and mend what can be mended; see `restore`.

        Nothing is deleted. Raises NotAWardrobe, NotAClone, Busy, GitMissing.
        """
        return restore(folder, clone=clone, preview=preview)

    def propose_undo(self) -> Undoing:
        """Propose to take back the last step that was not taken back; raises NothingToUndo."""
        return propose_undo(self)

    def propose_promotion(
        self,
        node: str,
        step: str,
        to: str | None = None,
        wish: Wish = _AS_IT_IS,
        why: str = "",
    ) -> Promotion:
        """Propose to move a correction of a node up to an ancestor; its `proposal` is recorded.

        Raises NoSuchNode, NoSuchStep, CannotPromote, AmountAsked, CannotStep.
        """
        return propose_promotion(self, node, step, to, wish, why)

    # --- garments ---------------------------------------------------------------------------------

    def garments(self, pattern: str | None = None, wearer: str = "") -> tuple[GarmentRecord, ...]:
        """Return the garments by name: all, those cut from a pattern, those of a wearer."""
        return whose.garments_of(self.state, pattern, wearer)

    def since_cut(self, garment: str) -> Since:
        """Return what became of a garment's pattern since it was cut; raises NoSuchGarment."""
        return since(self, self.state.garment(garment))

    def alteration(
        self, garment: str, least: float = LEAST, after: Evaluator | None = None
    ) -> Alteration:
        """Return what can still be done on a garment's cloth; seams keep `least` mm of allowance.

        `after` is a wardrobe as it might become. Raises as `asked_of` does.
        """
        return asked_of(self, garment, least, after).answer()

    def propose_cut(self, cutting_: cutting.Cutting, today: datetime.date | None = None) -> Filing:
        """Propose to record that cloth was cut; raises as `cut` does."""
        return cutting.cut(self, cutting_, today or datetime.date.today())

    def propose_note(
        self, garment: str, seen: notes.Seen, today: datetime.date | None = None
    ) -> Filing:
        """Propose a fit note on a garment; raises as `note` does."""
        return notes.note(self, garment, seen, today or datetime.date.today())

    def propose_mended(
        self, note: str, step: str, node: str | None = None, why: str = ""
    ) -> Filing:
        """Propose to mark a fit note as mended by a correction; raises as `mend` does."""
        return mending.mend(self, note, step, node, why)

    def propose_reopening(self, note: str, why: str = "") -> Filing:
        """Propose to take back that a fit note was mended; raises NoSuchNote, CannotMend."""
        return mending.reopen(self, note, why)

    def mending(self, proposal: Proposal, notes_: Sequence[str]) -> Proposal:
        """Return a proposed correction that also marks these fit notes as mended by it."""
        return mending.mending(self, proposal, notes_)

    def propose_status(self, garment: str, status: Status, why: str = "") -> Filing:
        """Propose to say how far a garment has come; raises as `set_status` does."""
        return wearing.set_status(self, garment, status, why)

    def propose_forgetting(self, garment: str, why: str) -> Filing:
        """Propose to take out a garment that was recorded by mistake; raises as `forget` does."""
        return forgetting.forget(self, garment, why)

    # --- bodies -----------------------------------------------------------------------------------

    def propose_measured(self, taken: MeasuredNow, today: datetime.date | None = None) -> Recording:
        """Propose to write down what was measured of a body; raises as `record` does."""
        return record(self, taken, today or datetime.date.today())

    # --- where a fault comes from -----------------------------------------------------------------

    def diagnose(
        self, node: str, symptom: str, place: str | None = None, amount: float | None = None
    ) -> Diagnosis:
        """Return what to check for a symptom seen on a node; `amount` is in mm."""
        return diagnose(self.evaluator, node, symptom, place, amount)

    def diagnose_note(self, note: str) -> Diagnosis:
        """Return what to check for a fit note; raises NoSuchNote."""
        garment, found = notes.find_note(self.state, note)
        return diagnose_note(self.evaluator, garment, found)

    def fit_from(
        self, pattern: str, pins: Sequence[Pin], on: str | None = None, why: str = ""
    ) -> Fit:
        """Return the corrections that pins on a garment of a pattern stand for."""
        return fit_from(self.evaluator, pattern, pins, on, why)

    def causes(self) -> Causes:
        """Return the causes behind all open fit notes, those of several garments first."""
        return causes(Inquiry(self.evaluator))

    def faults_of_garment(self, garment: str, note: str | None = None) -> tuple[SharedFault, ...]:
        """Return who shares what was seen on a garment; raises NoSuchGarment, NoOpenNote."""
        return faults_of_garment(Inquiry(self.evaluator), garment, note)

    def fault_of_place(self, node: str, place: str) -> SharedFault:
        """Return who shares a place of a node; raises NoSuchNode, NoSuchName."""
        return fault_of_place(Inquiry(self.evaluator), node, place)

    # --- what was done, and why -------------------------------------------------------------------

    def chronicle(self, until: str = "HEAD") -> Chronicle:
        """Return the history as entries, up to a version; raises UnknownRevision when asked."""
        return Chronicle(self, until)

    def explain(self, node: str) -> Explanation:
        """Return the chain of a node and all above it, step by step with reason and effect."""
        return explain(self.chronicle(), node)

    def report(self, node: str | None = None, span: Span = ALL) -> Audit:
        """Return an audit of what was done, of one node or of all."""
        return audit(self.chronicle(), node, span)
