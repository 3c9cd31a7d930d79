"""What a conflict is about in one short clause, for its title and wherever it is named."""

import re
from collections.abc import Iterator, Mapping

from trueup.cli.amounts import degrees, length
from trueup.cli.wording.kinds import kind_in_words
from trueup.cli.wording.matters import MATTERS
from trueup.cli.wording.seen import line_in_words
from trueup.geometry.said import Fact
from trueup.geometry.units import Unit
from trueup.lineage.files.records import ConflictKind, ConflictRecord, ConflictState
from trueup.lineage.replay.curing.names import FOLLOW

_TENSES = re.compile(r"\[([^|\]]*)\|([^\]]*)\]")
_HOLDS_EASE = 0.1  # mm that a line has to be longer than its mate, and so holds


def matter(conflict: ConflictRecord, unit: Unit, step: str = "") -> str:
    """Return what does not hold, or did not where that is over: `the sleeve cap holds 9 mm ...`.

    `step` is the step in words that was left out, where it was one.
    """
    words = MATTERS[_name(conflict)].format(**dict(_facts(conflict, unit, step)))
    over = is_over(conflict)
    return _TENSES.sub(lambda found: found[2] if over else found[1], words)


def conflict_title(conflict: ConflictRecord, unit: Unit, step: str = "") -> str:
    """Return where a conflict arose and what it is about."""
    return f"{conflict.arose_at}: {matter(conflict, unit, step)}"


def is_over(conflict: ConflictRecord) -> bool:
    """Return whether the node no longer is as a conflict says: it holds again, or was kept so."""
    return conflict.state is ConflictState.SETTLED or is_held(conflict)


def is_held(conflict: ConflictRecord) -> bool:
    """Return whether a conflict was decided by staying on an earlier version of the parent."""
    waits = conflict.state is ConflictState.ACCEPTED
    return waits and any(remedy.name == FOLLOW for remedy in conflict.remedies)


def left_out(conflict: ConflictRecord) -> bool:
    """Return whether a conflict is about a step of the node's own that was left out."""
    return conflict.kind in (ConflictKind.MISSING, ConflictKind.IMPOSSIBLE)


def facts_of(conflict: ConflictRecord) -> Mapping[str, Fact]:
    """Return the facts there are to say of a conflict, none where it was recorded as a text."""
    return {} if isinstance(conflict.says, str) else conflict.says.facts


def _name(conflict: ConflictRecord) -> str:
    code = conflict.code.partition(":")[0]
    said = "" if isinstance(conflict.says, str) else conflict.says.what
    if conflict.kind is ConflictKind.SEAM:
        return _of_seam(conflict, said)
    if conflict.kind is ConflictKind.TWO_MAKERS:
        return "two-makers"
    return next((each for each in (said, code) if each in MATTERS), "other")


def _of_seam(conflict: ConflictRecord, said: str) -> str:
    if conflict.after_mm is None or conflict.allowed_mm is None:
        return "other"
    low, _ = conflict.allowed_mm
    is_short = conflict.after_mm < low
    if low > _HOLDS_EASE:
        return "holds-too-little" if is_short else "holds-too-much"
    if said == "seam-uneven" and not conflict.section:
        return "uneven"
    return "too-short" if is_short else "too-long"


def _facts(conflict: ConflictRecord, unit: Unit, step: str) -> Iterator[tuple[str, str]]:
    line = line_in_words(conflict.piece, conflict.edge)
    yield "line", f"the {conflict.section} part of {line}" if conflict.section else line
    yield "piece", line_in_words(conflict.piece, "")
    yield "dart", _dart(conflict)
    yield "degrees", degrees(_off(conflict), *_most_off(conflict))
    yield "corrected", conflict.corrected or "its parent"
    facts = facts_of(conflict)
    kind = facts.get("kind")
    yield "step", step or (kind_in_words(str(kind)) if kind else "it was left out")
    for name in ("longer", "shorter"):
        yield name, _lines_in_words(str(facts.get(name, "")))
    uneven = facts.get("by")
    by = uneven if isinstance(uneven, float) else conflict.excess_mm
    yield "by", length(by, unit)
    for name in ("got", "wanted"):
        fact = facts.get(name)
        yield name, length(fact, unit) if isinstance(fact, float) else "a part"


def _dart(conflict: ConflictRecord) -> str:
    of = line_in_words(conflict.piece, "")
    return (
        f"the dart {conflict.edge.replace('-', ' ')} of {of}"
        if conflict.edge
        else f"a dart of {of}"
    )


def _lines_in_words(lines: str) -> str:
    """Return lines one beside the other, `front.armhole + back.armhole`, as they are spoken of."""
    named = (line.partition(".")[::2] for line in lines.split(" + "))
    return " and ".join(line_in_words(piece, edge) for piece, edge in named)


def _most_off(conflict: ConflictRecord) -> list[float]:
    """Return by how much an angle may be off, degrees; nothing where that is not told."""
    facts = facts_of(conflict)
    told = (facts.get("slack"), facts.get("allowed"))
    return [fact for fact in told if isinstance(fact, float)]


def _off(conflict: ConflictRecord) -> float:
    """Return how far an angle is from the one that would be right, degrees."""
    facts = facts_of(conflict)
    measured, right = facts.get("measured"), facts.get("right", 0.0)
    if isinstance(measured, float) and isinstance(right, float):
        return abs(measured - right)
    if conflict.allowed_mm is None:
        return conflict.excess_mm
    low, high = conflict.allowed_mm
    # A line that runs on straight turns by nothing; an angle that is right lies in the middle.
    return conflict.excess_mm + (high - low) / (2 if low else 1)
