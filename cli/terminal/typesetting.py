"""How what the commands type is set: real arrows, minus signs and the guides of a tree."""

import re
from functools import lru_cache

from msgspec import Struct
from rich.text import Text

_ARROW = re.compile(r"(?<=\s)->(?=\s)")
_MINUS = re.compile(r"(?<![^\s(\[,;/])-(?=\d[\d./ ]* (?:mm|cm|in|degrees)\b)")
_BEFORE_UNIT = r"(?<=\d) (?=(?:mm|cm|in|degrees)\b)"
_AFTER_SIGN = r"(?<=^[-+!~=]) "
_HELD = re.compile(f"{_BEFORE_UNIT}|{_AFTER_SIGN}")

_AT_HAND = 4096
"""So many texts are kept as they were set last: the same names and lengths are so on every page."""

_SIGNS = "\N{RIGHTWARDS ARROW}\N{MINUS SIGN}├─└│"
_GUIDES = {"|- ": "├─ ", "`- ": "└─ ", "|  ": "│  "}


@lru_cache(_AT_HAND)
def typeset(text: str) -> str:
    """Return a text with arrows, and with the minus signs of measures, as they are printed.

    What is typed into a command, `--by -3mm`, is left as it is, and so is every other hyphen.

    >>> typeset("20 mm -> 17.7 mm (-2.3 mm)"), typeset("amend a-1 --by -3mm")
    ('20 mm → 17.7 mm (−2.3 mm)', 'amend a-1 --by -3mm')
    """
    if "-" not in text:
        return text
    return _MINUS.sub("\N{MINUS SIGN}", _ARROW.sub("\N{RIGHTWARDS ARROW}", text))


def upper_first(text: str) -> str:
    """Return a text with its first letter large, and the others as they are.

    >>> upper_first("hollow the armhole of Ida's block"), upper_first("")
    ("Hollow the armhole of Ida's block", '')
    """
    return f"{text[:1].upper()}{text[1:]}"


@lru_cache(_AT_HAND)
def held_together(text: str) -> str:
    """Return a text in which no line ends between a measure and its unit, or after its first sign.

    >>> held_together("25 mm to 4 1/2 in").split(" "), held_together("+ matches").split(" ")
    (['25\\xa0mm', 'to', '4', '1/2\\xa0in'], ['+\\xa0matches'])
    """
    return _HELD.sub("\N{NO-BREAK SPACE}", text)


class Signs(Struct, frozen=True):
    """The signs of a page: real ones, or those that every stream has."""

    are_real: bool

    @classmethod
    def of(cls, encoding: str | None) -> "Signs":
        """Return the signs for what is written in an encoding, None where that is not known."""
        try:
            _SIGNS.encode(encoding or "ascii")
        except (UnicodeEncodeError, LookupError):
            return cls(are_real=False)
        return cls(are_real=True)

    def line(self, text: str) -> str:
        """Return a text with these signs."""
        return typeset(text) if self.are_real else text

    def words(self, text: Text) -> Text:
        """Return a text with these signs and its own colours."""
        if not self.are_real:
            return text
        arrows = _replaced(text, _ARROW, "\N{RIGHTWARDS ARROW}")
        return _replaced(arrows, _MINUS, "\N{MINUS SIGN}")

    def guide(self, guides: str) -> str:
        """Return the guides before a name in a tree, three signs a level."""
        if not self.are_real:
            return guides
        levels = [guides[at : at + 3] for at in range(0, len(guides), 3)]
        return "".join(_GUIDES.get(each, each) for each in levels)


def _replaced(text: Text, pattern: re.Pattern[str], sign: str) -> Text:
    found = list(pattern.finditer(text.plain))
    if not found:
        return text
    made, done = text.blank_copy(), 0
    for each in found:
        made.append_text(text[done : each.start()])
        made.append(sign)
        done = each.end()
    return made.append_text(text[done:])
