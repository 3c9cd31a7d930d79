"""How a page sets what the commands type: real arrows and minus signs."""

import re

_ARROW = re.compile(r"(?<=\s)->(?=\s)")
_MINUS = re.compile(r"(?<![^\s(\[,;/])-(?=\d[\d./ ]* (?:mm|cm|in|degrees)\b)")


def typeset(text: str) -> str:
    """Return a text with arrows, and with the minus signs of measures, as they are printed.

    What is typed into a command, `--by -3mm`, is left as it is, and so is every other hyphen.

    >>> typeset("20 mm -> 17.7 mm (-2.3 mm)"), typeset("amend a-1 --by -3mm")
    ('20 mm → 17.7 mm (−2.3 mm)', 'amend a-1 --by -3mm')
    """
    return _MINUS.sub("\N{MINUS SIGN}", _ARROW.sub("\N{RIGHTWARDS ARROW}", text))
