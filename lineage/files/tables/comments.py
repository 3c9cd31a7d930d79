"""Keep a maker's comments where tables of a TOML document are put in or taken out.

A TOML reader counts a comment to the table above it. What stands below the last field of a table
that is taken out is about what follows, or about the whole file, and stays.
"""

from collections.abc import Sequence

import tomlkit
from tomlkit.container import Container
from tomlkit.items import AoT, Comment, Item, Null, Table, Whitespace


def parsed(text: bytes) -> tomlkit.TOMLDocument:
    """Return a file's document, its last line ended: what is put below it begins a new one."""
    said = text.decode()
    return tomlkit.parse(said if said.endswith("\n") else f"{said}\n")


def take_end(document: tomlkit.TOMLDocument) -> list[Item]:
    """Take the comments out that end a file, set off from its last field by an empty line."""
    last = _last(document)
    spare = _below(last)
    empty = next((i for i, item in enumerate(spare) if isinstance(item, Whitespace)), len(spare))
    end = spare[empty + 1 :]
    if end:
        del last.body[-len(end) :]
    return end


def put_end(document: tomlkit.TOMLDocument, end: Sequence[Item]) -> None:
    """Put the comments back that end a file, an empty line above them."""
    if any(isinstance(item, Comment) for item in end):
        if not any(isinstance(item, Whitespace) for item in _below(_last(document))):
            put_below(document, [tomlkit.nl()])
        put_below(document, end)


def comments_below(part: Container | Table) -> list[Item]:
    """Return the comments below the last field of a part, from the first of them on."""
    spare = _below(_last(part))
    first = next((i for i, item in enumerate(spare) if isinstance(item, Comment)), len(spare))
    return spare[first:]


def put_below(part: Container | Table, comments: Sequence[Item]) -> None:
    """Put comments below the last field of a part."""
    last = _last(part)
    for item in comments:
        last.append(None, item)


def take_out(document: tomlkit.TOMLDocument, field: str, tables: AoT, index: int) -> None:
    """Take one table out of a list; the comments below it move to the table above."""
    spare = comments_below(tables[index])
    above = tables[index - 1] if index else _table_above(document, field)
    del tables[index]
    put_below(above, spare)


def _table_above(document: tomlkit.TOMLDocument, field: str) -> Container | Table:
    above: Container | Table = document
    for key, item in document.body:
        if key is not None and key.key == field:
            break
        if isinstance(item, Table):
            above = item
        elif isinstance(item, AoT) and len(item):
            above = item[-1]
    return above


def _last(part: Container | Table) -> Container:
    """Return what holds the last line of a part: a table in it, or in the last of its lists."""
    container = part.value if isinstance(part, Table) else part
    lines = (item for _, item in reversed(container.body) if not isinstance(item, Null))
    item = next(lines, None)
    if isinstance(item, AoT) and len(item):
        item = item[-1]
    return _last(item) if isinstance(item, Table) else container


def _below(container: Container) -> list[Item]:
    """Return the comments and empty lines that end what a container holds."""
    spare: list[Item] = []
    for key, item in reversed(container.body):
        if key is not None or not isinstance(item, Comment | Whitespace | Null):
            break
        spare.insert(0, item)
    return spare
