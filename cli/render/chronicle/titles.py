"""What an entry of the history is called: where, and what was done there in the trade's words."""

from trueup.cli.wording.kinds import subject_in_words
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.entry import DECIDE, Entry
from trueup.lineage.chronicle.words import step_in_words

_MOST = 2  # steps that one title tells; a fitting of more is told by how many

_SAID_OF = {"amend": ", amended", "drop": ", taken out", DECIDE: ", to settle a conflict"}


def entry_title(entry: Entry, unit: Unit) -> str:
    """Return the title of an entry; the commit's own subject where it made no step."""
    if not entry.node or not entry.steps or entry.is_join:
        return _re_measured(entry) or subject_in_words(entry.commit.subject)
    back = "taken back: " if entry.undone else ""
    words = [step_in_words(step, unit, entry.body) for step in entry.steps]
    made = "; ".join(words) if len(words) <= _MOST else f"a fitting of {len(words)} steps"
    return f"{entry.node}: {back}{made}{_SAID_OF.get(entry.verb, '')}"


def _re_measured(entry: Entry) -> str:
    if not entry.remeasured or not entry.node:
        return ""
    return f"{entry.node}: {'measured as before' if entry.undone else 'measured anew'}"
