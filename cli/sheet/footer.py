"""The strip below the pattern on every page: what it belongs to, and a rule to measure. In mm."""

from collections.abc import Sequence

from trueup.cli.sheet.facts import Facts
from trueup.cli.sheet.ink.drawn import Drawing, InkPen, InkWords, Stroke
from trueup.cli.sheet.ink.letters import width_of
from trueup.cli.sheet.laying.paper import FOOTER, MARGIN

RULE = 50.0
_CENTIMETRE = 10.0
_LETTERS = 2.5
_LINE = 3.0
_PLAIN = 2
"""So many lines stand there always; one below them is a warning."""

_BESIDE = 8.0
"""The rule stands so far to the right of the words."""


def footer(
    facts: Facts, width: float, height: float, said: Sequence[str], *, has_cover: bool = True
) -> Drawing:
    """Return the strip of a page of a size: the pattern, what is `said` of the page, the rule.

    Where something is open about the pattern, a third line says so, and where a cover tells more.
    """
    top, room = height - MARGIN - FOOTER, width - 2 * MARGIN - RULE - _BESIDE
    of = [facts.node, f"block {facts.block}", f"version {facts.version}"]
    lines = ["  |  ".join(of), "  |  ".join(each for each in said if each)]
    if facts.warning:
        lines.append(f"{facts.warning}; see page 1" if has_cover else facts.warning)
    words = []
    for n, line in enumerate(lines):
        bold = n >= _PLAIN
        size = _LETTERS * min(1.0, room / width_of(line, _LETTERS, bold))
        words.append(InkWords(line, complex(MARGIN, top + _LINE * (n + 1) - 0.5), size, bold))
    return Drawing((), tuple(words)) + _rule(complex(width - MARGIN - RULE, top + FOOTER - 1.0))


def _rule(left: complex) -> Drawing:
    """Return a line of five centimetres with a bar at each, and what it is."""
    strokes = [Stroke((left, left + RULE), InkPen.RULE)]
    for number in range(int(RULE / _CENTIMETRE) + 1):
        at = left + number * _CENTIMETRE
        strokes.append(Stroke((at, at - (3.0j if number in (0, 5) else 1.8j)), InkPen.RULE))
    return Drawing(tuple(strokes), (InkWords("5 cm", left + 1.0 - 2.2j, _LETTERS),))
