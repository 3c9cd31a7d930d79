"""What can go wrong in the geometry, as one small tree.

    GeometryError
        BadLength       a text or a number that is not a usable length

Every error keeps its facts as attributes, and its ``str()`` is one sentence that says what is
wrong, where, and what to do instead.
"""

_LONGEST_QUOTE = 40


class GeometryError(Exception):
    """Root of everything the geometry refuses; catch this to catch them all."""


class BadLength(GeometryError):  # noqa: N818 - named for what it is
    """A text that cannot be read as a length, or a number that cannot be a length.

    ``text`` is what was given, in full; ``reason`` says what is wrong with it; ``remedy`` says
    what would be understood instead.

    >>> str(BadLength("12ft", "ft is not a known unit", "use mm, cm or in"))
    '"12ft" is not a length: ft is not a known unit; use mm, cm or in.'
    """

    def __init__(self, text: str, reason: str, remedy: str) -> None:
        super().__init__(text, reason, remedy)
        self.text = text
        self.reason = reason
        self.remedy = remedy

    def __str__(self) -> str:
        return f'"{shown(self.text)}" is not a length: {self.reason}; {self.remedy}.'


def shown(text: str) -> str:
    r"""Return ``text`` fit to stand inside a sentence: one line, printable, not too long.

    >>> shown("1\n2")
    '1\\n2'
    >>> len(shown("9" * 1_000_000))
    40
    """
    if len(text) > _LONGEST_QUOTE:
        text = text[: _LONGEST_QUOTE - 1] + "…"
    # Undecodable bytes arrive from a command line as lone surrogates, which no terminal can print.
    return "".join(
        letter if letter.isprintable() else letter.encode("unicode_escape").decode("ascii")
        for letter in text
    )
