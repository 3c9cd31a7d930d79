"""A wardrobe open for steps that also joins another maker's work with its own."""

from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.merging.joining import Joiner, Joining
from trueup.lineage.recordable import Recorded
from trueup.lineage.writable import Tell, WritableWardrobe, say_nothing


class JoinableWardrobe(WritableWardrobe):
    """One wardrobe, and what was made of it elsewhere. Close it, or use it in a `with`."""

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

    def join(self, named: str | None = None, tell: Tell = say_nothing) -> Recorded[Joining] | None:
        """Join another version and record it; None where there is nothing to join.

        The maker's own edits become a step of their own before it, as by `carry_out`; what git
        left half joined is finished first, and edits in it belong to that.
        """
        with self.writing():
            joining = self.propose_join(named)
            if joining is None:
                return None
            if not self.is_half_merged and self.take_up_first(tell):
                joining = self.propose_join(named)
                if joining is None:
                    return None
            return Recorded(joining, self._commit(joining))

    @property
    def is_half_merged(self) -> bool:
        """Return whether git stopped in the middle of a merge here."""
        return self._store.half_merged() is not None

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
