"""Texts put into Markdown so that nothing a maker wrote is taken for a mark."""

import re
from collections.abc import Iterable, Sequence

from trueup.lineage.errors import printable

_MARKS = re.compile(r"([\\`*_{}\[\]<#|~!&$@^])")
_AT_START = re.compile(r"^([-+=>]|[0-9]+[.)](?=\s|$))")
_ADDRESS = re.compile(r"(?<=[A-Za-z])(://)|\b(www)\.", re.IGNORECASE)


def plain(text: object) -> str:
    r"""Return a text on one line that Markdown shows as it is, whoever wrote it.

    >>> plain("# <b>front_armhole</b>")
    '\\# \\<b>front\\_armhole\\</b>'
    """
    line = " ".join(str(text).split())
    escaped = _MARKS.sub(r"\\\1", printable(line))
    escaped = _ADDRESS.sub(lambda m: r"\://" if m[1] else rf"{m[2]}\.", escaped)
    return _AT_START.sub(lambda m: f"{m[1][:-1]}\\{m[1][-1]}", escaped)


def table(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> list[str]:
    """Return the lines of a table; every cell is made plain."""
    lines = [_line(heads), _line(["---"] * len(heads), plainly=False)]
    return [*lines, *(_line([str(cell) for cell in row]) for row in rows)]


def _line(cells: Sequence[str], *, plainly: bool = True) -> str:
    return f"| {' | '.join(plain(cell) if plainly else cell for cell in cells)} |"


def page(lines: Iterable[str]) -> str:
    """Return lines as one document."""
    return "\n".join(lines).strip("\n") + "\n"
