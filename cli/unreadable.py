"""What of a wardrobe cannot be read: told in one line, as JSON, and as an exit code."""

from collections.abc import Collection, Iterable, Iterator
from typing import TYPE_CHECKING

from trueup.cli.failures import DAMAGED
from trueup.cli.page import note
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.errors import Damaged, StandsOnUnreadable, printable
from trueup.lineage.errors.root import RESTORE
from trueup.lineage.files.gaps import VersionGap
from trueup.lineage.files.state import State
from trueup.lineage.files.unreadable import causes, name_of
from trueup.lineage.loading import SETTINGS_FILE

if TYPE_CHECKING:
    from trueup.cli.json.forms import Form
    from trueup.lineage.opened import OpenWardrobe

_LETTERS = 10  # of the id of a version
_MOST = 5  # named in a line; the rest is counted


def code_of_whole(state: State, gaps: Collection[VersionGap] = (), usual: int = 0) -> int:
    """Return the exit code of an answer over the whole wardrobe, `usual` where nothing is missing.

    3 where anything cannot be read, and so is not part of the answer.
    """
    return DAMAGED if state.unreadable or gaps else usual


def note_unreadable(state: State) -> None:
    """Say in one line on stderr what cannot be read, what is left out for it, and what helps."""
    if state.unreadable:
        note(unreadable_line(state))


def unreadable_line(state: State) -> str:
    """Return in one sentence what cannot be read, what is left out for it, and what helps."""
    from trueup.cli.hints import error_sentence  # noqa: PLC0415  (seldom anything is wrong)

    found = causes(state.unreadable)
    if len(found) == 1:
        says = error_sentence(found[0], state.unit).removesuffix(".")
    else:
        listed = _some(
            [f"{printable(e.place)} ({printable(worded(e.reason, state.unit))})" for e in found]
        )
        helps = "mend them, or put back the last version of each with `trueup restore FILE`"
        if all(each.may_be_whole for each in found):
            helps = "allow reading them"
        says = f"{len(found)} files cannot be read: {listed}; {helps}"
    return "; until then ".join([says, *_meanwhile(state)]) + "."


def untold(gaps: Iterable[VersionGap], state: State) -> tuple[VersionGap, ...]:
    """Return what git could not give, without what a state says of itself that it lacks."""
    told = {(each.place, str(each.reason)) for each in causes(state.unreadable)}
    return tuple(gap for gap in gaps if (gap.path, str(gap.error.reason)) not in told)


def note_gaps(gaps: Collection[VersionGap]) -> None:
    """Say in one line on stderr what of earlier versions git could not give, and what helps."""
    if gaps:
        note(gaps_line(gaps))


def note_missing(wardrobe: "OpenWardrobe") -> None:
    """Say on stderr what of a wardrobe, and of earlier versions asked for, cannot be read."""
    note_unreadable(wardrobe.state)
    note_gaps(untold(wardrobe.gaps, wardrobe.state))


def gaps_line(gaps: Collection[VersionGap]) -> str:
    """Return in one sentence what of earlier versions git could not give, and what helps."""
    missing = _some(list(map(_gap_in_words, gaps)))
    them = "it" if len(gaps) == 1 else "them"
    if all(gap.error.may_be_whole for gap in gaps):
        closed = dict.fromkeys(printable(gap.error.place) for gap in gaps)
        helps = f"allow reading {_some(list(closed))}"
    else:
        helps = f"{RESTORE} (`trueup restore`)"
    return (
        f"Of earlier versions git does not give {missing}, and this goes without {them}; {helps}."
    )


def _gap_in_words(gap: VersionGap) -> str:
    when = f" as of {printable(gap.version[:_LETTERS])}" if gap.version else ""
    what = f"{printable(gap.path)}{when}" if gap.path else f"any of {gap.version[:_LETTERS]}"
    why = printable(worded(gap.error.reason, Unit.MILLIMETRE))
    return f"{what} ({why})"


def _meanwhile(state: State) -> Iterator[str]:
    """Yield what becomes of what cannot be read, in a clause."""
    without = _some([name_of(path) for path in sorted(state.unreadable) if path != SETTINGS_FILE])
    clauses = [f"this goes without {without}"] if without else []
    if SETTINGS_FILE in state.unreadable:
        clauses.append("the settings are as they were last recorded")
    if clauses:
        yield " and ".join(clauses)


def _some(names: list[str]) -> str:
    more = f" and {len(names) - _MOST} more" if len(names) > _MOST else ""
    return f"{', '.join(names[:_MOST])}{more}"


def with_unreadable(document: "Form", state: State, gaps: Collection[VersionGap] = ()) -> "Form":
    """Return a document that also lists what cannot be read, where there is anything."""
    if not state.unreadable and not gaps:
        return document
    found = [_form(error) for _, error in sorted(state.unreadable.items())]
    return {**document, "unreadable": [*found, *map(_gap_form, gaps)]}


def _gap_form(gap: VersionGap) -> "Form":
    reason = worded(gap.error.reason, Unit.MILLIMETRE)
    return {"path": gap.path or None, "version": gap.version, "reason": reason}


def _form(error: Damaged) -> "Form":
    reason = worded(error.reason, Unit.MILLIMETRE)
    if isinstance(error, StandsOnUnreadable):
        reason = f"{reason}, and {error.cause.place} cannot be read"
    return {"path": error.place, "reason": reason}
