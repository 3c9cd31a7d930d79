"""The page of a conflict: what does not hold, its remedies tried out, and what was decided."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count

from markupsafe import Markup

from trueup.cli.book.addresses import correction
from trueup.cli.book.figures import figure, figure_of_pieces
from trueup.cli.book.pages.remedies import TriedOut, outcome, remedy_cards
from trueup.cli.book.source import BookSource
from trueup.cli.book.templating import page
from trueup.cli.drawing.seam_walk import BARE_WALK_KEY
from trueup.cli.pictures.conflicts import conflict_pictures
from trueup.cli.render.chronicle.entries import who
from trueup.cli.render.conflicts import numbers_line
from trueup.cli.render.matters import conflict_title, is_held, is_over, left_out
from trueup.cli.render.needed import met_by
from trueup.cli.wording.words import worded
from trueup.geometry.errors import GeometryError
from trueup.lineage.chronicle.entry import Decided
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.errors import WardrobeError
from trueup.lineage.files.records import ConflictRecord, ConflictState, Decision


@dataclass(frozen=True)
class _Made:
    """A decision that was made: by which remedy, by whom, when and why, and what it did.

    Of one that the history here does not reach, `by` and `version` are empty.
    """

    remedy: str
    says: str
    day: str
    why: str
    by: str = ""
    version: str = ""
    taken_back: bool = False
    outcome: TriedOut | None = None


@dataclass(frozen=True)
class _Walked:
    """A seam walked: its picture, and what is written with it."""

    picture: Markup
    heading: str
    told: tuple[str, ...]


def titled(source: BookSource, conflict_id: str) -> str:
    """Return in words what a conflict is about; raises NoSuchConflict."""
    conflict = source.state.conflict(conflict_id)
    return conflict_title(conflict, source.unit, _step(source, conflict))


def conflict_page(source: BookSource, conflict_id: str) -> Markup:
    """Return the page of a conflict; raises NoSuchConflict.

    What is over has no picture of how it stood: the pattern is no longer as it was.
    """
    conflict = source.state.conflict(conflict_id)
    numbers = count(1)
    made = list(_made(source, conflict, numbers))
    over = is_over(conflict)
    shown = None if over else conflict_pictures(source.reading, conflict)
    return page(
        "conflict.html",
        conflict=conflict,
        title=titled(source, conflict_id),
        state=conflict.state.value,
        is_over=over,
        is_held=is_held(conflict),
        addresses=source.addresses,
        says=worded(conflict.says, source.unit),
        measured=numbers_line(conflict, source.unit),
        correction_page=correction_of(source, conflict),
        cards=list(remedy_cards(source, conflict, numbers)),
        made=made,
        picture=figure_of_pieces(
            shown.pieces, next(numbers), f"{conflict_id}: where it lies", shown.key
        )
        if shown
        else None,
        walks=[
            _Walked(figure(each.scene, next(numbers)), each.heading, each.told)
            for each in (shown.walks if shown else ())
        ],
        walk_key=BARE_WALK_KEY,
        shown_by=source.inheriting.get(conflict_id, ()),
    )


def _step(source: BookSource, conflict: ConflictRecord) -> str:
    """Return the step that was left out in words; empty where it was none."""
    node = source.state.nodes.get(conflict.arose_at)
    step = node.step(conflict.change) if node and left_out(conflict) else None
    return step_in_words(step, source.unit) if step else ""


def correction_of(source: BookSource, conflict: ConflictRecord) -> str:
    """Return the commit whose correction brought a conflict, where it has a page; else empty."""
    brought = {*conflict.correction.split()}
    for commit, entry in source.corrections.items():
        if brought & {*entry.step_ids} and entry.undone is None:
            return commit
    return ""


def met(source: BookSource, conflict: ConflictRecord) -> tuple[str, str]:
    """Return the correction a conflict was met by, in words, and the address of its page.

    Both are empty where there is none.
    """
    words, commit = met_by(conflict, source.state), correction_of(source, conflict)
    return words, correction(commit) if words and commit else ""


def _made(source: BookSource, conflict: ConflictRecord, numbers: Iterator[int]) -> Iterator[_Made]:
    """Yield the decisions about a conflict, the last first."""
    found = [each for each in source.chronicle.decisions if each.conflict.id == conflict.id]
    if not found:
        yield from (_recorded(each) for each in reversed(conflict.decisions))
    stands = next((each for each in reversed(found) if not each.taken_back), None)
    for each in reversed(found):
        is_last = each is stands and conflict.state is not ConflictState.OPEN
        done = _outcome(source, conflict, each, next(numbers)) if is_last else None
        yield _Made(
            each.decision.remedy,
            _remedy_in_words(source, each),
            f"{each.commit.when:%Y-%m-%d}",
            each.decision.why,
            who(each.commit),
            each.commit.id[:10],
            each.taken_back,
            done,
        )


def _recorded(decision: Decision) -> _Made:
    day = decision.date.isoformat() if decision.date else ""
    return _Made(decision.remedy, decision.remedy, day, decision.why)


def _remedy_in_words(source: BookSource, decided: Decided) -> str:
    """Return the remedy that was chosen as it was offered then; its name where that is gone."""
    name = decided.decision.remedy
    try:
        before = source.chronicle.entry(decided.commit).before
        known = before.state.conflict(decided.conflict.id) if before else None
    except WardrobeError:
        return name
    offered = known.remedies if known else ()
    says = (worded(each.says, source.unit) for each in offered if each.name == name)
    return next((each for each in says if each), name)


def _outcome(
    source: BookSource, conflict: ConflictRecord, decided: Decided, number: int
) -> TriedOut | None:
    """Return what a decision did; None where one of the two versions cannot be read."""
    entry = source.chronicle.entry(decided.commit)
    try:
        if entry.before is None:
            return None
        return outcome(entry.before, entry.after, conflict, source.unit, number)
    except (WardrobeError, GeometryError):
        return None
