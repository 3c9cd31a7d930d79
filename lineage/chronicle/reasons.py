"""Why a step was made, as its commit says it, and what was measured then."""

import re

from trueup.lineage.replay.verdicts import MeasureChange

_MEASURED = re.compile(
    r"(?P<name>[a-z0-9-]+(?:\.[a-z0-9-]+)+) (?P<before>-?[0-9.]+) -> (?P<after>-?[0-9.]+) mm"
)


def reason(body: str) -> str:
    """Return the words of a commit below its subject, without the measures that end them."""
    return _parted(body)[0]


def measured(body: str) -> tuple[MeasureChange, ...]:
    """Return the measures that end what a commit says, mm."""
    return _parted(body)[1]


def _parted(body: str) -> tuple[str, tuple[MeasureChange, ...]]:
    paragraphs = [each for each in re.split(r"\n[ \t]*\n", body.strip()) if each.strip()]
    lines = paragraphs[-1].split("\n") if paragraphs else []
    found = [match for line in lines if (match := _MEASURED.fullmatch(line))]
    if not found or len(found) < len(lines):
        return "\n\n".join(paragraphs), ()
    try:
        changes = tuple(
            MeasureChange(each["name"], float(each["before"]), float(each["after"]))
            for each in found
        )
    except ValueError:  # a maker's own words can look almost like it
        return "\n\n".join(paragraphs), ()
    return "\n\n".join(paragraphs[:-1]), changes
