"""Lines as the commands print them, as HTML: so a thing is told in the same words everywhere."""

import re
from collections.abc import Iterable, Mapping

from markupsafe import Markup, escape
from rich.console import RenderableType
from rich.padding import Padding
from rich.text import Text

from trueup.cli.book.addresses import href
from trueup.cli.render.table import PlainTable
from trueup.cli.terminal.typesetting import held_together, typeset
from trueup.lineage.errors import printable

_HYPHENED = re.compile(r"((?<![\w.-])[a-z][a-z0-9]*(?:-[a-z0-9]+)+(?![\w-]))")


def html_lines(parts: Iterable[RenderableType], known: Mapping[str, str]) -> Markup:
    """Return printed parts as HTML; names in the cells of tables lead to the address they have."""
    return _joined("\n", (_part(part, known) for part in parts))


def linked(text: str, known: Mapping[str, str]) -> Markup:
    """Return names with commas between, each as a link where it has an address."""
    return _joined(", ", (_name(printable(name), known) for name in text.split(", ")))


def linked_words(text: str, known: Mapping[str, str]) -> Markup:
    """Return a sentence, in which names with a hyphen lead to the address they have.

    A name of one word, such as a pattern called sleeve, could be any word; it leads somewhere only
    where it is the whole text.
    """
    if text in known:
        return _name(text, known)
    pieces = _HYPHENED.split(typeset(printable(text)))
    told = (_name(each, known) if "-" in each else escape(each) for each in pieces)
    return Markup(held_together("".join(told)))


def _joined(between: str, parts: Iterable[Markup]) -> Markup:
    """Return markup joined, with nothing to escape in any of it or between."""
    return Markup(between.join(parts))


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
        return Markup("")
    if text.no_wrap:
        command = escape(text.plain.strip())
        return Markup(f"<pre class=command tabindex=0><code>{command}</code></pre>")
    names = [*(["strong"] if "bold" in str(text.style) else []), *(["inset"] if inset else [])]
    kind = f' class="{" ".join(names)}"' if names else ""
    return Markup(f"<p{kind}>{linked_words(text.plain, known)}</p>")


def _table(table: PlainTable, known: Mapping[str, str]) -> Markup:
    """Return a table with its roles written out: a phone lays its rows out as lists."""
    heads = [typeset(head) for head in table.heads]
    sides = [" class=number" if head in table.right else "" for head in table.heads]
    titles = "".join(
        f"<th scope=col role=columnheader{side}>{escape(head)}</th>"
        if head
        else "<td role=cell></td>"
        for head, side in zip(heads, sides, strict=True)
    )
    tags = [(f"<th scope=row role=rowheader{side}>", "</th>") for side in sides[:1]] + [
        (f'<td role=cell data-head="{escape(head)}"{side}>', "</td>")
        for head, side in zip(heads[1:], sides[1:], strict=True)
    ]
    rows = "\n".join(_row(row, tags, known) for row in table.rows)
    named = escape(", ".join(filter(None, heads)))
    return Markup(
        f'<table class=rows role=table aria-label="Table of {named}">'
        f"<thead role=rowgroup><tr role=row>{titles}</tr>"
        f"</thead><tbody role=rowgroup>{rows}</tbody></table>"
    )


def _row(cells: Iterable[Text], tags: Iterable[tuple[str, str]], known: Mapping[str, str]) -> str:
    """Return a row; `tags` are what each cell stands between."""
    written = (
        f"{before}{_cell(cell, known)}{after}"
        for (before, after), cell in zip(tags, cells, strict=True)
    )
    return f"<tr role=row>{''.join(written)}</tr>"


def _cell(cell: Text, known: Mapping[str, str]) -> Markup:
    told = "<br>".join(linked(line.strip(), known) for line in cell.plain.split("\n"))
    held = held_together(told)
    # What is set in from the left is a part of what stands above it.
    return Markup(f"<span class=inset>{held}</span>" if cell.plain.startswith("  ") else held)


def _name(name: str, known: Mapping[str, str]) -> Markup:
    if name not in known:
        return escape(typeset(name))
    return Markup(f'<a href="{escape(href(known[name]))}">{escape(name)}</a>')
