"""The templates of the pages: whatever is put into them is text, unless it was made as markup."""

from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from trueup.cli.book.addresses import correction, href
from trueup.cli.book.lines import linked_words
from trueup.cli.render.garments.seen import note_in_short
from trueup.cli.render.matters import matter
from trueup.cli.terminal.typesetting import typeset, upper_first
from trueup.cli.wording.kinds import subject_in_words
from trueup.cli.wording.words import worded
from trueup.lineage.errors import printable

_FOLDER = Path(__file__).parent / "templates"


def page(template: str, folder: Path = _FOLDER, **values: object) -> Markup:
    """Return a template, `NAME.html`, filled in.

    One of another folder can take what those of the book have.
    """
    return Markup(_environment(folder).get_template(template).render(values))


@cache
def _environment(folder: Path) -> Environment:
    made = Environment(
        loader=FileSystemLoader([folder, _FOLDER]),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_plain,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["upper_first"] = upper_first
    made.globals |= {
        "href": href,
        "correction": correction,
        "linked": linked_words,
        "verbatim": verbatim,
        "worded": worded,
        "matter": matter,
        "seen": note_in_short,
        "subject": subject_in_words,
    }
    return made


def verbatim(text: str) -> Markup:
    """Return a text to be typed as it stands, such as a command: nothing in it is set otherwise."""
    return escape(printable(text))


def _plain(value: object) -> object:
    """Return text on one line, with nothing in it that is no letter to read; markup as it is."""
    if isinstance(value, Markup):
        return value
    if not isinstance(value, str):
        return printable(value)
    # What is printable ends no line.
    return (
        typeset(value) if value.isprintable() else printable(typeset(" ".join(value.splitlines())))
    )
