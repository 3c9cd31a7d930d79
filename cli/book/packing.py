"""Pages packed small enough that a book of a thousand patterns opens at once."""

import base64
import gzip
import json
from dataclasses import dataclass

from trueup.cli.book.views import View


@dataclass(frozen=True)
class Leaf:
    """A page as it lies in the file of a book: its address, and the packed letters of it."""

    address: str
    letters: str


def leaf(view: View) -> Leaf:
    """Return a page packed."""
    return Leaf(view.address, packed(json.dumps({"title": view.title, "content": view.content})))


def packed(text: str) -> str:
    """Return a text as letters that stand in HTML as they are: gzip (RFC 1952) in base64.

    Equal texts give equal letters, at any time.
    """
    return base64.b64encode(gzip.compress(text.encode("utf-8"), 9, mtime=0)).decode("ascii")
