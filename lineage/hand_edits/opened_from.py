"""From which version of a file an edit by hand was made. Pure.

An editor that was opened before a step and saves after it writes a text that lacks the step, all
of it, and knows nothing of it. Whoever takes a step out by hand knows the newer ones.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.lineage.hand_edits.said import ABSENT, Item, Said, apart, said_by


@dataclass(frozen=True)
class FileVersion:
    """A file as a step left it, None where it took it out; `by_hand`: it was an edit by hand."""

    content: bytes | None
    by_hand: bool = False


@dataclass(frozen=True)
class _Step:
    """One step of a file's history: how many came after it, and whether it was made by hand."""

    number: int
    by_hand: bool


def opened_from(edited: bytes, versions: Sequence[FileVersion]) -> FileVersion:
    """Return the version a text was edited from, of those given newest first.

    It is the newest unless the text lacks what was recorded since an older one just as that older
    version lacks it; of several such the one it differs from least.
    """
    newest = versions[0]
    here, now = said_by(edited), said_by(newest.content)
    if here is None or now is None:
        return newest
    made_by: dict[Item, _Step] = {}
    found, least = newest, -1
    newer, step = now, _Step(0, newest.by_hand)
    for version in versions[1:]:
        older = said_by(version.content)
        if older is None:
            continue
        for item in apart(newer, older):
            made_by.setdefault(item, step)
        newer, step = older, _Step(step.number + 1, version.by_hand)
        if version.content is not None and _lacks(here, now, older, made_by):
            distance = len(apart(here, older))
            if least < 0 or distance < least:
                found, least = version, distance
    return found


def _lacks(edited: Said, newest: Said, older: Said, made_by: dict[Item, _Step]) -> bool:
    """Return whether a text lacks what came after an older version, as that version does.

    An editor that saved twice knows of its own first edit, which was taken up by then, and still
    not of the steps before it. So an edit by hand may be known as a whole, a step may not. What it
    lacks as the newest version does tells nothing: an editor may have taken it out as well.
    """
    known, lacking = set(), set()
    for item in apart(newest, older):
        here = edited.get(item, ABSENT)
        if here == newest.get(item, ABSENT):
            if here is not ABSENT:
                known.add(made_by[item])
        elif here == older.get(item, ABSENT):
            lacking.add(made_by[item])
    if not known:
        return bool(lacking)
    lacks_a_step = any(not step.by_hand for step in lacking)
    return lacks_a_step and all(step.by_hand for step in known) and not known & lacking
