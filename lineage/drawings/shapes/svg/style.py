"""What of an SVG drawing is seen: by its attributes, its `style` and the simple rules of a sheet.

Only what decides whether a line shows on paper is read; a selector of more than one word is not.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from xml.etree import ElementTree

from trueup.lineage.drawings.safe_svg import local

_RULE = re.compile(r"([^{}]*)\{([^{}]*)\}")
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_SEEN = ("display", "visibility", "fill", "stroke", "opacity")
_INHERITED = ("visibility", "fill", "stroke")
_WHITE = frozenset(
    ("none", "transparent", "white", "#fff", "#ffffff", "rgb(255,255,255)", "rgb(100%,100%,100%)")
)


@dataclass(frozen=True)
class StyleSheet:
    """The rules of the style sheets of a drawing, by their simple selectors."""

    rules: dict[str, dict[str, str]] = field(default_factory=dict)

    @classmethod
    def of(cls, root: ElementTree.Element) -> "StyleSheet":
        """Return the rules of all sheets of a drawing."""
        rules: dict[str, dict[str, str]] = {}
        for element in root.iter():
            if local(element) == "style":
                for selectors, body in _RULE.findall(_COMMENT.sub("", element.text or "")):
                    for selector in selectors.split(","):
                        rules.setdefault(selector.strip(), {}).update(_declared(body))
        return cls(rules)

    def look(self, element: ElementTree.Element, above: dict[str, str]) -> dict[str, str]:
        """Return how an element looks, within what it takes over from above."""
        look = {name: above[name] for name in _INHERITED if name in above}
        look.update({n: element.attrib[n].strip() for n in _SEEN if n in element.attrib})
        for selector in self._selectors(element):
            look.update(self.rules.get(selector, {}))
        look.update(_declared(element.get("style", "")))
        return look

    def _selectors(self, element: ElementTree.Element) -> Iterator[str]:
        yield "*"
        yield local(element)
        for word in element.get("class", "").split():
            yield f".{word}"
            yield f"{local(element)}.{word}"
        yield f"#{element.get('id', '')}"


def is_hidden(look: dict[str, str]) -> bool:
    """Return whether an element, and all in it, is not to be seen."""
    return look.get("display") == "none" or look.get("opacity", "1") in ("0", "0.0", "0%")


def is_seen(look: dict[str, str]) -> bool:
    """Return whether a line shows on white paper: it is stroked, or filled with a colour."""
    fill, stroke = (look.get(n, d).lower().replace(" ", "") for n, d in _DEFAULTS)
    return look.get("visibility") != "hidden" and not (fill in _WHITE and stroke in _WHITE)


_DEFAULTS = (("fill", "black"), ("stroke", "none"))


def _declared(body: str) -> dict[str, str]:
    found = {}
    for each in body.split(";"):
        name, colon, value = each.partition(":")
        if colon and name.strip() in _SEEN:
            found[name.strip()] = value.replace("!important", "").strip()
    return found
