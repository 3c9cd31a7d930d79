"""Open the wardrobe a command names, for reading."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from trueup.cli.command_line import CommandLine
from trueup.cli.failures import Misused
from trueup.cli.page import note
from trueup.cli.patience import patience
from trueup.cli.unreadable import (
    code_of_whole,
    note_gaps,
    note_unreadable,
    untold,
    with_unreadable,
)
from trueup.lineage.errors import listed
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.lanes import Lanes
from trueup.lineage.files.gaps import VersionGap
from trueup.lineage.files.state import State
from trueup.lineage.hand_edits.looking import HandEdits
from trueup.lineage.hand_edits.named import Named
from trueup.lineage.opened import OpenWardrobe

if TYPE_CHECKING:
    from trueup.cli.json.forms import Form


class OpenToRead(Struct, frozen=True):
    """A wardrobe open to be read, as it is or as of an earlier version."""

    wardrobe: OpenWardrobe
    evaluator: Evaluator
    commands: CommandLine

    @property
    def state(self) -> State:
        """Return the nodes as they are, or were."""
        return self.evaluator.state

    def write(self, document: "Form") -> None:
        """Write one document to stdout, with what could not be read."""
        from trueup.cli.json import forms as json_forms  # noqa: PLC0415  (loaded by who writes one)

        json_forms.write(self.with_unreadable(document))

    def with_unreadable(self, document: "Form") -> "Form":
        """Return a document that also lists what could not be read, where there is anything."""
        return with_unreadable(document, self.state, self.gaps)

    @property
    def gaps(self) -> tuple[VersionGap, ...]:
        """Return what git could not give so far of versions that were asked for."""
        return untold(self.wardrobe.gaps, self.state)

    def code_of_whole(self, usual: int = 0) -> int:
        """Return the exit code of an answer that goes over the whole wardrobe."""
        return code_of_whole(self.state, self.gaps, usual)


@contextmanager
def reading(
    folder: Path | None,
    as_of: str | None = None,
    *,
    evaluated: bool = False,
    cluster: str | None = None,
    as_json: bool = False,
) -> Iterator[OpenToRead]:
    """Open a wardrobe to read it, without what cannot be read.

    Says so where edits made by hand are part of the answer, or something is left out of it. With
    `evaluated` that is also what cannot be evaluated: for an answer that evaluates every node.
    Where that takes long, a terminal is told how far it is, unless the answer is `as_json`.
    """
    with (
        OpenWardrobe.open(folder or Path(), lanes_of(cluster)) as wardrobe,
        patience(wardrobe, silent=as_json),
    ):
        evaluator = wardrobe.evaluator if as_of is None else wardrobe.evaluator_at(as_of)
        opened = evaluator.sound() if evaluated else evaluator
        answer = OpenToRead(wardrobe, opened, CommandLine(folder))
        try:
            yield answer
        except Misused as error:
            error.unit = opened.state.unit.value
            raise
        # Only beside an answer: what cannot be answered is told in one sentence.
        if as_of is None:
            note_hand_edits(wardrobe, opened.state)
        note_unreadable(opened.state)
        note_gaps(answer.gaps)


def lanes_of(cluster: str | None) -> Lanes | None:
    """Return the lanes of a cluster that was asked for; raises NoCluster where it is of no use."""
    if cluster is None:
        return None
    # Loading it takes longer than most verbs.
    from trueup.lineage.evaluation.cluster import Cluster  # noqa: PLC0415

    return Cluster(cluster)


def note_hand_edits(wardrobe: OpenWardrobe, state: State) -> None:
    """Say on stderr what of the maker's edits by hand since the last step is part of a state."""
    if wardrobe.is_unfinished:
        note(
            "A step is being written, or was interrupted: this is the last recorded version, and "
            "files on the disk may still be as before it."
        )
    if not wardrobe.edited:
        return
    edits = wardrobe.edits
    left_out = {*edits.refused, *state.broken_files}
    taken = [path for path in wardrobe.edited if path not in left_out]
    if taken:
        note(f"Edited by hand and not yet a step, taken as they stand: {listed(taken)}.")
    note_joined(edits, state.broken_files)


def note_joined(edits: HandEdits, broken: Collection[str] = ()) -> None:
    """Say on stderr which files edited by hand are joined with later steps, and which cannot be."""
    for line in joined_lines({p: named for p, named in edits.since.items() if p not in broken}):
        note(line)
    for path, error in edits.refused.items():
        from trueup.cli.hints import error_sentence  # noqa: PLC0415  (seldom one is refused)

        note(f"Answered from {path} as it was recorded last. {error_sentence(error)}")


def joined_lines(since: Mapping[str, Sequence[Named]]) -> Iterator[str]:
    """Yield what edited files did not know of, and hold joined."""
    for path, named in since.items():
        yield (
            f"{path} was opened before {listed([str(each) for each in named])} was recorded, and "
            "is joined with it."
        )
