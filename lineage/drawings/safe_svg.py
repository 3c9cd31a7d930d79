"""Read SVG drawings by anyone safely: nothing outside the file, no entities, all within bounds."""

import re
from collections.abc import Iterator
from xml.etree import ElementTree

from defusedxml import DefusedXmlException
from defusedxml.ElementTree import fromstring
from fontTools.pens.basePen import BasePen
from fontTools.svgLib.path import parse_path

from trueup.geometry.said import Said, said
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import FARTHEST, LARGEST_DRAWING, MOST_ELEMENTS

SVG = "http://www.w3.org/2000/svg"

# The parser of path data takes numbers as CSS writes them and passes over what is none, so that
# "1.e5" or "nan" would be read as another path; whatever is not of this form is refused before.
# Every part is possessive: there is one way to read a text, and none is tried twice.
NUMBER = (
    r"[-+]?+(?>(?>0(?![0-9])|[1-9][0-9]*+)(?>\.[0-9]++)?+|\.[0-9]++)(?>[eE][-+]?+[0-9]{1,3}+)?+"
)
_PATH = re.compile(rf"(?>[MLHVCSQTZmlhvcsqtz]|{NUMBER}(?![.])|[ ,\t\r\n])*+")
# The two flags of an arc may be written without a blank after them, as "a5 5 0 0110 10".
_BLANK = r"[ ,\t\r\n]"
_AMOUNT = rf"{_BLANK}*+{NUMBER}"
_ARC = rf"(?>(?>{_AMOUNT}){{3}}{_BLANK}*+[01]{_BLANK}*+[01](?>{_AMOUNT}){{2}})"
_PATH_WITH_ARCS = re.compile(rf"(?>[Aa]{_ARC}++|[MLHVCSQTZmlhvcsqtz]|{NUMBER}(?![.])|{_BLANK})*+")


def elements(content: bytes, place: str, *, doctype: bool = False) -> Iterator[ElementTree.Element]:
    """Yield the elements of a drawing, its root first; `place` is what a message calls the file.

    A `doctype` may stand before it where that is said, but no entity, and it is never followed.
    Raises BadRecord for what is no SVG drawing, or larger than any.
    """
    if len(content) > LARGEST_DRAWING:
        raise BadRecord(place, f"it is larger than {LARGEST_DRAWING // 1_000_000} MB")
    # Each element begins with this sign and most end with another: a bound before anything is built
    if content.count(b"<") > 2 * MOST_ELEMENTS:
        raise BadRecord(place, f"it holds more than {MOST_ELEMENTS} parts")
    try:
        # As text, so that no other encoding can hide what was counted.
        root = fromstring(content.decode("utf-8-sig"), forbid_dtd=not doctype)
    except UnicodeDecodeError:
        raise BadRecord(place, "it is not UTF-8 text") from None
    except DefusedXmlException:
        raise BadRecord(place, "it defines entities, which no drawing needs") from None
    except (ElementTree.ParseError, ValueError, LookupError) as error:
        raise BadRecord(place, f"it is not XML: {error}") from None
    if root.tag != f"{{{SVG}}}svg":
        raise BadRecord(place, "it is no SVG drawing")
    yield from root.iter()


def local(element: ElementTree.Element) -> str:
    """Return the name of an element without its namespace."""
    return str(element.tag).rpartition("}")[2]


class TooFar(Exception):
    """A path that leads farther, or has more points, than any cloth; `says` which of the two."""

    def __init__(self, says: Said | str) -> None:
        super().__init__(says)
        self.says = says


def require_near(*points: tuple[float, float]) -> None:
    """Raise TooFar for a point that lies farther out than any; NaN does too."""
    for x, y in points:
        if not max(abs(x), abs(y)) <= FARTHEST:
            raise TooFar(said("point-too-far", most=FARTHEST))


def follow(drawn: str, pen: BasePen, place: str, name: str, *, arcs: bool = False) -> None:
    """Lead a pen along the path data of the element `name`, with `arcs` or without any.

    Raises BadRecord.
    """
    if not (_PATH_WITH_ARCS if arcs else _PATH).fullmatch(drawn):
        raise BadRecord(place, "its path holds what is no line, curve or number", field=name)
    try:
        parse_path(" ".join(drawn.split()), pen)
    except TooFar as error:
        raise BadRecord(place, error.says, field=name) from None
    except Exception:  # the parser trips in its own ways over a path that is cut short
        raise BadRecord(place, "its path cannot be followed", field=name) from None
