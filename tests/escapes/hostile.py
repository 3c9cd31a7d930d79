"""Text that acts on a terminal, and what must not be among what a command prints."""

import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

TEXTS: Mapping[str, str] = {
    "colour": "a\x1b[31mred\x1b[0m",
    "title": "a\x1b]0;title\x07b",
    "clipboard": "a\x1b]52;c;ZXZpbA==\x1b\\b",
    "answer back": "a\x1b[6n\x1b[c\x05",
    "cursor": "a\x1b[2J\x1b[1;1H\x1b[9A",
    "device": "a\x1bPq#0\x1b\\\x1b_Gf=100;AAAA\x1b\\",
    "c1": "a\x9b31mred\x9d0;title\x9c\x85\x84",
    "overwrite": "safe\rfalse\x08\x08\x7f",
    "lines": "a\nRecorded as 0123456789.\n\u2028b\u2029c\x0b\x0c",
    "bidi": "a\u202egnp.exe\u202c \u2066x\u2069 \u200f",
    "unseen": "a\u200b\u200d\ufeff\u00ad\u2060b\U000e0041",
    "wide": "漢字" * 40 + "👩‍👩‍👧" * 10,
    "private": "a\ue000\uf8ff\U0010ffff\ufffe",
    "long": "x" * 5000,
    "markup": "[red]a[/red] [link=file:///etc/passwd]b[/link] :boom: <b>&amp;",
    "format": "%s %n {0} {name!r} $(x) `x` \\x1b",
}
"""What a maker or a stranger may write where a text is asked for."""

_ACTS = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


def acting(text: str) -> list[str]:
    """Return the characters of a printed text on which a terminal could act, newlines apart."""
    return sorted({c for c in text if c != "\n" and unicodedata.category(c) in _ACTS})


def leaves(document: Any, path: Sequence[Any] = ()) -> Iterator[tuple[Any, ...]]:
    """Yield the way to every text in a document."""
    if isinstance(document, dict):
        for key, value in document.items():
            yield from leaves(value, (*path, key))
    elif isinstance(document, list):
        for index, value in enumerate(document):
            yield from leaves(value, (*path, index))
    elif isinstance(document, str):
        yield tuple(path)


def replaced(document: Any, path: Sequence[Any], text: str) -> None:
    """Put a text in place of the one a way leads to."""
    for step in path[:-1]:
        document = document[step]
    document[path[-1]] = text
