"""What a step wrote into the history: words, and measures, which are told in any unit."""

from dataclasses import dataclass

from trueup.lineage.replay.verdicts import MeasureChange
from trueup.lineage.trail import MEASURE


@dataclass(frozen=True)
class SaidThen:
    """The lines of words of a step, and the measures it changed."""

    words: tuple[str, ...]
    measures: tuple[MeasureChange, ...]


def recorded(body: str) -> SaidThen:
    """Return what the message of a step says below its subject.

    >>> recorded("It binds.\\n\\nfront.armhole 224.3 -> 236.0 mm").measures[0].after_mm
    236.0
    """
    lines = [line for line in body.split("\n") if line.strip()]
    found = [(line, MEASURE.fullmatch(line)) for line in lines]
    return SaidThen(
        tuple(line for line, measure in found if measure is None),
        tuple(
            MeasureChange(read["name"], float(read["before"]), float(read["after"]))
            for _, read in found
            if read is not None
        ),
    )
