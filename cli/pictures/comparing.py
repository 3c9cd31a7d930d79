"""The two versions a maker compares, how they are called, and what is written beside them."""

from collections.abc import Iterator
from dataclasses import dataclass

from trueup.cli.drawing.overlay import Caption
from trueup.cli.failures import Misused
from trueup.cli.json.forms import Form
from trueup.cli.opening import OpenToRead
from trueup.cli.render.patterns.comparison import move_line, other_changes
from trueup.geometry.comparing.comparison import Comparison
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.last_change import before_last_change
from trueup.lineage.store import Commit

HEAD = "HEAD"


@dataclass(frozen=True)
class ComparedVersion:
    """A node as of a commit, or as it now stands with edits by hand that are no step yet."""

    node: str
    draft: Draft
    commit: Commit
    edited: bool = False

    @property
    def words(self) -> str:
        """Return the name, the day and the short commit."""
        return f"{self.node} ({self.when_words}{', with edits by hand' if self.edited else ''})"

    @property
    def when_words(self) -> str:
        """Return the day and the short commit."""
        return f"{self.commit.when:%Y-%m-%d} {self.commit.id[:10]}"

    @property
    def form(self) -> Form:
        """Return it for a JSON document."""
        return {
            "node": self.node,
            "commit": self.commit.id,
            "when": self.commit.when.isoformat(),
            "edited_by_hand": self.edited,
        }


def versions(
    reading: OpenToRead, node: str, other: str | None, from_: str | None, to: str | None
) -> tuple[ComparedVersion, ComparedVersion]:
    """Return the two versions that are meant: of one node, or of one node and another.

    Raises Misused where one node has no other version to compare with.
    """
    new = _version(reading, other or node, to)
    if other is None and from_ is None:
        evaluator = _evaluator(reading, to)
        from_ = before_last_change(reading.wardrobe, evaluator, node, to or HEAD)
        if from_ is None:
            raise Misused(
                f"{node} has been as it is from its beginning; name a version with --from, or "
                "another block or pattern to compare it with."
            )
    return _version(reading, node, from_), new


def _version(reading: OpenToRead, node: str, revision: str | None) -> ComparedVersion:
    evaluator = _evaluator(reading, revision)
    evaluator.state.node(node)
    commit = reading.wardrobe.commit(revision or HEAD)
    edited = revision is None and reading.wardrobe.is_edited
    return ComparedVersion(node, evaluator.draft(node), commit, edited)


def _evaluator(reading: OpenToRead, revision: str | None) -> Evaluator:
    return reading.evaluator if revision is None else reading.wardrobe.evaluator_at(revision)


def caption(found: Comparison, old: ComparedVersion, new: ComparedVersion, unit: Unit) -> Caption:
    """Return what is written beside the picture of a comparison."""
    moves = tuple(move_line(move, unit) for move in found.moves)
    is_one = old.node == new.node
    return Caption(
        f"{old.words} -> {new.words}",
        f"before: {old.when_words if is_one else old.words}",
        f"after: {new.when_words if is_one else new.words}",
        moves,
        tuple(_notes(found, old, new, unit)),
    )


def _notes(
    found: Comparison, old: ComparedVersion, new: ComparedVersion, unit: Unit
) -> Iterator[str]:
    yield from other_changes(found, old.words, new.words, unit)
    if found.is_same:
        yield "Nothing moved."
    else:
        same = [name for name in found.new.piece_names if name not in found.changed_pieces]
        if same:
            yield f"As before, and not drawn: {', '.join(same)}."
    yield f"Laid over each other: {found.by.words}."
