"""The one HTML file of a book: a frame, and every page in it, packed until it is asked for."""

import base64
import hashlib
import json
from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path

from markupsafe import Markup

from trueup.cli.book.addresses import menu, named
from trueup.cli.book.packing import Leaf, packed
from trueup.cli.book.source import BookSource
from trueup.cli.book.templating import page
from trueup.lineage.store import Commit

_SHELL = Path(__file__).parent / "shell"
_OPENING = (
    "Opening the book. If this stays, only a part of the file is here; take another copy of it."
)
_NO_SCRIPT = (
    "The script that turns the pages of this book lies in the file itself, but does not run here; "
    "open the file in a browser with scripts turned on."
)
STYLES = (
    "base.css",
    "frame.css",
    "pictures.css",
    "tables.css",
    "conflicts.css",
    "corrections.css",
    "patterns.css",
    "start.css",
    "worn.css",
    "pattern.css",
    "paper.css",
)
TURNING = (
    "turning.js",
    "scrolling.js",
    "picture.js",
    "edges.js",
    "versions.js",
    "nested.js",
    "finding.js",
    "paper.js",
)
SCRIPTS = ("packed.js", *TURNING, "beginning.js")


def document(source: BookSource, leaves: Iterable[Leaf]) -> Iterator[str]:
    """Yield the parts of the file, in order; each page is asked for when its turn comes.

    The script stands behind the first page, so that a browser shows that page while it still reads
    the others. The file asks for nothing from outside, and lets no script run but its own: its
    content security policy (W3C, Content Security Policy Level 3) names both by their digests.
    """
    style, script = shell(STYLES), shell(SCRIPTS, '"use strict";\n')
    yield page(
        "book.html",
        name=source.state.settings.name,
        stands=stands(source.head, is_edited=source.wardrobe.is_edited),
        policy=policy(script, style),
        style=style,
        menu=menu(source.state),
        opening=_OPENING,
        no_script=_NO_SCRIPT,
    )
    pages = iter(leaves)
    yield from map(_page, islice(pages, 1))
    yield _lying(Markup("id=names"), packed(json.dumps(list(named(source.state)))))
    yield Markup("<script>{}</script>\n").format(script)
    yield from map(_page, pages)
    yield Markup("<template id=end></template>\n</body>\n</html>\n")


def _page(leaf: Leaf) -> Markup:
    return _lying(Markup('data-address="{}"').format(leaf.address), leaf.letters)


def _lying(attribute: Markup, letters: str) -> Markup:
    """Return packed letters as they lie in the file, found by an attribute."""
    return Markup('<script type="application/gzip;base64" {}>{}</script>\n').format(
        attribute, letters
    )


def stands(head: Commit, *, is_edited: bool) -> str:
    """Return in words how a wardrobe stands, by its last step."""
    edited = ", and edits by hand since" if is_edited else ""
    return f"{head.when:%Y-%m-%d}, version {head.id[:10]}{edited}"


def shell(names: Iterable[str], before: str = "", folder: Path = _SHELL) -> Markup:
    """Return files of the shell as one style or one script; `before` stands at its head."""
    return Markup(before + "\n".join((folder / n).read_text(encoding="utf-8") for n in names))


def policy(script: str, style: str) -> str:
    """Return a content security policy that lets run and show nothing but these two."""
    return (
        f"default-src 'none'; script-src {_digest(script)}; style-src {_digest(style)}; "
        "img-src data:; base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    found = hashlib.sha256(text.encode("utf-8")).digest()
    return f"'sha256-{base64.b64encode(found).decode('ascii')}'"
