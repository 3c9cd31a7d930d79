"""Record a step that a page asked for, on the very state its maker saw and on no other."""

from collections.abc import Callable

from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.cli.render.chronicle.entries import who
from trueup.lineage.errors import MovedOn, listed
from trueup.lineage.hand_edits.taking_up import TakenUp
from trueup.lineage.proposal import Proposal
from trueup.lineage.recordable import Recordable, Recorded
from trueup.lineage.writable import StepT, WritableWardrobe

_MOST_TOLD = 5


def record_seen(
    desk: Desk, version: str, propose: Callable[[WritableWardrobe], StepT], command: str
) -> Line:
    """Record what is proposed and return the line that tells of it, with the command for the same.

    Where the wardrobe is of another version than was seen nothing is recorded, and the line says
    what was done meanwhile. Raises what proposing and recording raise.
    """
    if desk.version != version:
        return moved(desk, version)
    seen: list[StepT] = []
    taken: list[str] = []

    def propose_on_what_was_seen(wardrobe: WritableWardrobe) -> StepT:
        # With the maker's own edits it is proposed twice: on them as they lie there, and once they
        # are a step. An editor may save in between, which shows in what comes of it.
        if not seen and desk.version != version:
            raise MovedOn(version, wardrobe.base)
        found = propose(wardrobe)
        if seen and _told(found) != _told(seen[0]):
            raise MovedOn(version, wardrobe.base)
        seen.append(found)
        return found

    def tell(edits: Recorded[TakenUp]) -> None:
        taken.extend(edits.step.paths)

    try:
        done = desk.wardrobe.carry_out(propose_on_what_was_seen, tell)
    except MovedOn:
        return moved(desk, version)
    finally:
        desk.let_go()
    return recorded(desk, done.step.message, done.commit, command, taken)


def recorded(
    desk: Desk, message: str, commit: str, command: str, taken: list[str] | None = None
) -> Line:
    """Return the line that tells of a recorded step; `taken` are files of edits before it."""
    return {
        "recorded": commit,
        "subject": message.split("\n", 1)[0],
        "command": command,
        "first": f"Your own edits became a step before it: {listed(taken)}." if taken else "",
        "version": desk.version,
    }


def moved(desk: Desk, version: str) -> Line:
    """Return the line that tells that nothing was recorded, and what was done meanwhile."""
    since = [f"{each.subject} ({who(each)})" for each in desk.since(version)]
    more = [f"and {len(since) - _MOST_TOLD} more"] if len(since) > _MOST_TOLD else []
    what = "; ".join((*since[:_MOST_TOLD], *more)) or "files of the wardrobe were edited"
    return {"moved": f"The wardrobe moved on meanwhile, so nothing was recorded: {what}."}


def _told(step: Recordable) -> object:
    """Return what a maker is told of a step, without what follows from its version."""
    if not isinstance(step, Proposal):
        return step.message.split("\n", 1)[0]
    patterns = [(each.name, each.verdict, each.measures) for each in step.replay.patterns]
    return step.message, patterns, [each.key for each in step.replay.conflicts]
