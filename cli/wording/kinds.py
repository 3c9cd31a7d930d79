"""Kinds of change as a maker says them, told without loading what carries them out.

They are the phrases that the kinds themselves have; a test holds both against each other. A kind
that is not listed is said as its name reads.
"""

import re
from types import MappingProxyType

from trueup.cli.wording.decisions import CHOSEN
from trueup.cli.wording.seen import seen_in_words

_PHRASES = MappingProxyType(
    {
        "add-ease": "add ease to the girth",
        "add-fly": "add the fly",
        "add-vent": "vent",
        "dart-to-flare": "turn to flare the dart",
        "deepen-crotch": "deepen the crotch",
        "deepen-dart": "deepen the dart",
        "drop-piece": "leave out",
        "drop-shoulder": "drop the shoulder",
        "extend-crotch": "lengthen the fork",
        "flare-hem": "flare the hem",
        "flare-seam": "let out the seam",
        "full-arm": "widen the sleeve at the arm",
        "high-hip": "raise the side over the hip",
        "hollow-chest": "shorten the front above the bust",
        "insert-gusset": "insert a gusset",
        "join-parts": "put together",
        "leave-free": "leave free the edge",
        "lower-armhole": "lower the armhole",
        "lower-neck": "lower the neck",
        "move-apex": "move the tip of the dart",
        "open-fold": "open the fold",
        "open-front": "open",
        "pitch-sleeve": "turn the sleeve forward",
        "raise-cap": "raise the sleeve cap",
        "redraw-edge": "redraw the edge",
        "reduce-ease": "reduce the ease",
        "refit-cap": "refit the sleeve cap",
        "release-dart": "leave unsewn the dart",
        "rotate-dart": "turn the dart",
        "round-back": "lengthen the back over the blades",
        "scoop-armhole": "hollow the armhole",
        "shape-hem": "shape the hem",
        "shape-leg": "widen the leg at the hem",
        "shape-neck": "shape the neck line",
        "shift-shoulder": "bring the shoulder seam forward",
        "shorten-shoulder": "shorten the shoulder",
        "slope-shoulder": "lower the shoulder point",
        "split-dart": "split the dart",
        "straighten-edge": "straighten the edge",
        "sway-back": "shorten the centre back at the waist",
        "take-out-darts": "take out the darts",
        "taper-side": "take in the side",
        "true-hem": "true the hem",
        "true-shoulder": "true the shoulder",
        "two-piece-sleeve": "cut a two-piece sleeve",
        "widen-neck": "widen the neck",
        "widen-sleeve": "widen the sleeve",
    }
)
_OWN = re.compile(r"\bits own ([a-z]+(?:-[a-z]+)*)")
_MADE = re.compile(r"(?:Correct|Style|Amend|Drop from|Promote from \S+ to) \S+: ")
_DECIDED = re.compile(r"Decide (\S+) on (\S+): (\S+)$")
_NOTED = re.compile(r"((?:Note|Mended) on \S+: )(\S+) at ([^\s,]+)")
_KIND = re.compile(r"[a-z]+(?:-[a-z]+)*")


def kind_in_words(kind: str) -> str:
    """Return a kind of change as a maker says it: `hollow the armhole`."""
    return _PHRASES.get(kind, kind.replace("-", " "))


def kinds_in_words(kinds: str) -> str:
    """Return kinds that are named with commas between as a maker says them."""
    return _KIND.sub(lambda found: kind_in_words(found[0]), kinds)


def chosen_in_words(remedy: str) -> str:
    """Return a remedy that was chosen, by its name, as a maker says it: `refit the sleeve cap`."""
    return CHOSEN.get(remedy, kind_in_words(remedy))


def note_in_words(note: str) -> str:
    """Return what is noted of a verdict, with the own step it names in the trade's words.

    >>> note_in_words("its own refit-cap sees to it")
    'its own step "refit the sleeve cap" sees to it'
    """
    return _OWN.sub(lambda found: f'its own step "{kind_in_words(found[1])}"', note)


def subject_in_words(subject: str) -> str:
    """Return what a step was recorded as, with its kinds in the trade's words, ids last.

    >>> subject_in_words("Correct village: scoop-armhole, refit-cap")
    'Correct village: hollow the armhole, refit the sleeve cap'
    """
    decided = _DECIDED.search(subject)
    if decided is not None:
        conflict, node, remedy = decided.groups()
        chosen = chosen_in_words(remedy)
        return f"{subject[: decided.start()]}Decide on {node}: {chosen} ({conflict})"
    noted = _NOTED.search(subject)
    if noted is not None:
        seen = seen_in_words(*noted.groups()[1:])
        return f"{subject[: noted.end(1)]}{seen}{subject[noted.end() :]}"
    made = _MADE.search(subject)
    if made is None:
        return subject
    kinds, _, notes = subject[made.end() :].partition(", mends ")
    return f"{subject[: made.end()]}{kinds_in_words(kinds)}{_mended(notes)}"


def _mended(notes: str) -> str:
    if not notes:
        return ""
    named = notes.split(" and ")
    count = "a fit note" if len(named) == 1 else f"{len(named)} fit notes"
    return f", mends {count} ({', '.join(named)})"
