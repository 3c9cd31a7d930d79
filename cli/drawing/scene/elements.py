"""Elements of an XML document as text, each in a line of its own, what is in it further right.

Format: W3C, Extensible Markup Language (XML) 1.0 (Fifth Edition).
"""

from collections.abc import Sequence
from functools import lru_cache
from xml.sax.saxutils import escape

_BEYOND_XML = dict.fromkeys(
    [*range(0x20), *range(0x7F, 0xA0), *range(0xD800, 0xE000), 0xFFFE, 0xFFFF],
    "\N{REPLACEMENT CHARACTER}",
)
_AT_HAND = 4096
"""So many attributes are kept as they were written last: the same lines are on every picture."""
_QUOTES = {'"': "&quot;"}


@lru_cache(_AT_HAND)
def attribute(name: str, value: str) -> str:
    """Return an attribute, with the space before it."""
    return f' {name}="{escape(_clean(value), _QUOTES)}"'


def element(tag: str, attributes: str, text: str = "") -> str:
    """Return an element that holds a text, or nothing."""
    return (
        f"<{tag}{attributes}>{escape(_clean(text))}</{tag}>" if text else f"<{tag}{attributes} />"
    )


def nested(tag: str, attributes: str, inside: Sequence[str]) -> list[str]:
    """Return an element that holds others, by their lines, in lines."""
    if not inside:
        return [element(tag, attributes)]
    return [f"<{tag}{attributes}>", *[f"  {line}" for line in inside], f"</{tag}>"]


def _clean(text: str) -> str:
    """Return a text with what XML cannot hold, escaped or not, replaced."""
    # All of that is nothing to print, and few texts have any.
    return text if text.isprintable() else text.translate(_BEYOND_XML)
