"""Kinds of change as a maker says them, told without loading what carries them out.

A kind without a phrase is said as its name reads.
"""

import re
from itertools import groupby

from trueup.cli.wording.decisions import CHOSEN
from trueup.cli.wording.seen import seen_in_words
from trueup.cli.wording.spoken.kind_phrases import OPPOSITES, PHRASES, PLAIN

_OWN = re.compile(r"\bits own ([a-z]+(?:-[a-z]+)*)")
_BY_STEP = re.compile(r"\b(by|own|over) ([a-z]+(?:-[a-z]+)*) \(([0-9a-f]+)\)")
_MADE = re.compile(r"(?:Correct|Style|Amend|Drop from|Promote from \S+ to) \S+: ")
_DECIDED = re.compile(r"Decide (\S+) on (\S+): (\S+)$")
_NOTED = re.compile(r"((?:Note|Mended) on \S+: )(\S+) at ([^\s,]+)")
_KIND = re.compile(r"[a-z]+(?:-[a-z]+)*")


def kind_in_words(kind: str) -> str:
    """Return a kind of change as a maker says it: `hollow the armhole`."""
    return PHRASES.get(kind, kind.replace("-", " "))


def made_in_words(kind: str, by: object) -> tuple[str, object]:
    """Return a kind whose amount is at hand as a maker says it, and the amount as it is then told.

    >>> made_in_words("slope-shoulder", "-8mm"), made_in_words("slope-shoulder", "8mm")
    (('raise the shoulder point', '8mm'), ('lower the shoulder point', '8mm'))
    """
    text = str(by or "").strip()
    if text.startswith(("-", "\N{MINUS SIGN}")) and kind in OPPOSITES:
        return OPPOSITES[kind], text[1:].strip()
    return PLAIN.get(kind) or kind_in_words(kind), by


def kinds_in_words(kinds: str) -> str:
    """Return kinds that are named with commas between as a maker says them.

    One that comes several times in a row is said once, with how many times.

    >>> kinds_in_words("hem-allowance, seam-allowance, seam-allowance")
    'set the hem allowance, set the seam allowance (2 times)'
    """
    told = []
    for kind, again in groupby(kinds.split(", ")):
        words, times = _KIND.sub(lambda found: kind_in_words(found[0]), kind), len([*again])
        told.append(f"{words} ({times} times)" if times > 1 else words)
    return ", ".join(told)


def chosen_in_words(remedy: str) -> str:
    """Return a remedy that was chosen, by its name, as a maker says it: `refit the sleeve cap`."""
    return CHOSEN.get(remedy, kind_in_words(remedy))


def note_in_words(note: str) -> str:
    """Return what is noted of a verdict, with the own step it names in the trade's words.

    >>> note_in_words("its own refit-cap sees to it")
    'its own step "refit the sleeve cap" sees to it'
    """
    return _OWN.sub(lambda found: f'its own step "{kind_in_words(found[1])}"', note)


def drawn_in_words(says: str) -> str:
    """Return by which step a line was drawn, with the kind of the step in the trade's words.

    >>> drawn_in_words("front.side was drawn by its own taper-side (26b101a6)")
    'front.side was drawn by its own step "take in the side" (26b101a6)'
    """
    return _BY_STEP.sub(
        lambda found: f'{found[1]} step "{kind_in_words(found[2])}" ({found[3]})', says
    )


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
