"""Lines as the commands print them, as HTML: so a thing is told in the same words everywhere."""

import re
from collections.abc import Iterable, Iterator, Mapping

from markupsafe import Markup, escape
from rich.console import RenderableType
from rich.padding import Padding
from rich.text import Text

from trueup.cli.book.addresses import href
from trueup.cli.render.table import PlainTable
from trueup.cli.terminal.typesetting import typeset
from trueup.lineage.errors import printable

_EMPTY = Markup("")
_HYPHENED = re.compile(r"((?<![\w.-])[a-z][a-z0-9]*(?:-[a-z0-9]+)+(?![\w-]))")


def html_lines(parts: Iterable[RenderableType], known: Mapping[str, str]) -> Markup:
    """Return printed parts as HTML; names in the cells of tables lead to the address they have."""
    return Markup("\n").join(_part(part, known) for part in parts)


def linked(text: str, known: Mapping[str, str]) -> Markup:
    """Return names with commas between, each as a link where it has an address."""
    return Markup(", ").join(_name(printable(name), known) for name in text.split(", "))


def linked_words(text: str, known: Mapping[str, str]) -> Markup:
    """Return a sentence, in which names with a hyphen lead to the address they have.

    A name of one word, such as a pattern called sleeve, could be any word; it leads somewhere only
    where it is the whole text.
    """
    if text in known:
        return _name(text, known)
    pieces = _HYPHENED.split(typeset(printable(text)))
    return Markup("").join(_name(each, known) if "-" in each else escape(each) for each in pieces)


def _part(part: RenderableType, known: Mapping[str, str], *, inset: bool = False) -> Markup:
    match part:
        case Padding():
            return _part(part.renderable, known, inset=True)
        case PlainTable():
            return _table(part, known)
        case Text():
            return _text(part, known, inset=inset)
        case str():
            return _text(Text(printable(part)), known, inset=inset)
    raise TypeError(f"no HTML for {type(part).__name__}")


def _text(text: Text, known: Mapping[str, str], *, inset: bool) -> Markup:
    if not text.plain.strip():
        return _EMPTY
    if text.no_wrap:
        return Markup("<pre class=command tabindex=0><code>{}</code></pre>").format(
            text.plain.strip()
        )
    names = [*(["strong"] if "bold" in str(text.style) else []), *(["inset"] if inset else [])]
    kind = Markup(' class="{}"').format(" ".join(names)) if names else _EMPTY
    return Markup("<p{}>{}</p>").format(kind, linked_words(text.plain, known))


def _table(table: PlainTable, known: Mapping[str, str]) -> Markup:
    """Return a table with its roles written out: a phone lays its rows out as lists."""
    heads = Markup("").join(
        Markup("<th scope=col role=columnheader{}>{}</th>").format(_side(head, table), head)
        if head
        else Markup("<td role=cell></td>")
        for head in map(typeset, table.heads)
    )
    rows = Markup("\n").join(Markup("").join(_row(row, table, known)) for row in table.rows)
    return Markup(
        '<table class=rows role=table aria-label="{}"><thead role=rowgroup><tr role=row>{}</tr>'
        "</thead><tbody role=rowgroup>{}</tbody></table>"
    ).format(f"Table of {_named(table)}", heads, rows)


def _named(table: PlainTable) -> str:
    return ", ".join(typeset(head) for head in table.heads if head)


def _row(cells: Iterable[Text], table: PlainTable, known: Mapping[str, str]) -> Iterator[Markup]:
    yield Markup("<tr role=row>")
    for place, (head, cell) in enumerate(zip(table.heads, cells, strict=True)):
        words = Markup("<br>").join(linked(line, known) for line in cell.plain.split("\n"))
        if place == 0:
            tag = Markup("<th scope=row role=rowheader{}>{}</th>")
            yield tag.format(_side(head, table), words)
        else:
            tag = Markup('<td role=cell data-head="{}"{}>{}</td>')
            yield tag.format(typeset(head), _side(head, table), words)
    yield Markup("</tr>")


def _side(head: str, table: PlainTable) -> Markup:
    return Markup(" class=number") if head in table.right else _EMPTY


def _name(name: str, known: Mapping[str, str]) -> Markup:
    if name not in known:
        return escape(typeset(name))
    return Markup('<a href="{}">{}</a>').format(href(known[name]), name)
