"""A book opened by other means than a browser: its frame, and every page unpacked."""

import base64
import gzip
import json
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

VOID = frozenset({"br", "img", "input", "meta", "link", "hr"})


@dataclass(frozen=True)
class Tag:
    """An element: its name, its attributes, and the text directly in it."""

    name: str
    attributes: dict[str, str]
    text: list[str] = field(default_factory=list)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: list[Tag] = []
        self.open: list[Tag] = []

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        made = Tag(tag, {name: value or "" for name, value in attrs})
        self.tags.append(made)
        if tag not in VOID:
            self.open.append(made)

    def handle_startendtag(self, tag: str, attrs: Any) -> None:
        self.tags.append(Tag(tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open.pop().name != tag:
            pass

    def handle_data(self, data: str) -> None:
        if self.open:
            self.open[-1].text.append(data)


def tags(html: str) -> list[Tag]:
    reader = _Reader()
    reader.feed(html)
    return reader.tags


def text(html: str) -> str:
    return " ".join(" ".join("".join(tag.text) for tag in tags(html)).split())


def _unpacked(packed: str) -> Any:
    return json.loads(gzip.decompress(base64.b64decode(packed)))


@dataclass(frozen=True)
class Book:
    frame: list[Tag]
    pages: dict[str, dict[str, str]]
    names: list[tuple[str, str]]

    def page(self, address: str) -> str:
        return self.pages[address]["content"]


def opened(file: Path) -> Book:
    frame = tags(file.read_text(encoding="utf-8"))
    pages, names = {}, []
    for tag in frame:
        if "data-address" in tag.attributes:
            pages[tag.attributes["data-address"]] = _unpacked("".join(tag.text))
        elif tag.attributes.get("id") == "names":
            names = [tuple(each) for each in _unpacked("".join(tag.text))]
    return Book(frame, pages, names)
