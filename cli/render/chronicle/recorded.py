"""What a step wrote into the history: words, and measures, which are told in any unit."""

import re
from dataclasses import dataclass

from trueup.cli.amounts import before_and_after
from trueup.geometry.units import Unit

_MEASURE = re.compile(r"(\S+) (-?\d+\.\d) -> (-?\d+\.\d) mm")


@dataclass(frozen=True)
class SaidThen:
    """The lines of words of a step, and the measures it changed, by name, before and after."""

    words: tuple[str, ...]
    measures: tuple[tuple[str, str], ...]


def recorded(body: str, unit: Unit) -> SaidThen:
    """Return what the message of a step says below its subject.

    >>> recorded("It binds.\\n\\nfront.armhole 224.3 -> 236.0 mm", Unit.CENTIMETRE).measures
    (('front.armhole', '22.4 cm -> 23.6 cm (+1.2 cm)'),)
    """
    lines = [line for line in body.split("\n") if line.strip()]
    found = {line: _MEASURE.fullmatch(line) for line in lines}
    return SaidThen(
        tuple(line for line in lines if not found[line]),
        tuple(
            (read[1], before_and_after(float(read[2]), float(read[3]), unit))
            for read in found.values()
            if read
        ),
    )
