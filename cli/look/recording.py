"""Record a step that a page proposed, on the very state that its maker saw and on no other."""

from collections.abc import Callable

from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.lineage.errors import MovedOn, listed
from trueup.lineage.hand_edits.taking_up import TakenUp
from trueup.lineage.proposal import Proposal
from trueup.lineage.recordable import Recorded
from trueup.lineage.writable import WritableWardrobe

Propose = Callable[[WritableWardrobe], Proposal]

MOVED = (
    "The wardrobe moved on meanwhile, so nothing was recorded; this is worked out anew, "
    "look at it and record it then."
)


def record_seen(desk: Desk, version: str, propose: Propose, command: str) -> Line:
    """Record what is proposed and return the line that tells of it, with the command for the same.

    Where the wardrobe is of another version than was seen nothing is recorded, and the line says
    so. Raises what proposing and recording raise.
    """
    seen: list[Proposal] = []
    taken: list[str] = []

    def propose_on_what_was_seen(wardrobe: WritableWardrobe) -> Proposal:
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
        return {"moved": MOVED}
    finally:
        desk.let_go()
    return {
        "recorded": done.commit,
        "subject": done.step.edit.subject,
        "command": command,
        "first": f"Your own edits became a step before it: {listed(taken)}." if taken else "",
        "version": desk.version,
    }


def _told(proposal: Proposal) -> object:
    """Return what a maker is told of a proposal, without what follows from its version."""
    found = proposal.replay
    told = [(each.name, each.verdict, each.measures) for each in found.patterns]
    return found.measures, told, [each.key for each in found.conflicts]
