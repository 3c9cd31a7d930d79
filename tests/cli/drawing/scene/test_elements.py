"""Elements as text: as a writer of XML that knows nothing of pictures would write them."""

import re
from xml.etree import ElementTree

from hypothesis import given
from hypothesis import strategies as st

from trueup.cli.drawing.scene.elements import attribute, element, nested

NAMES = st.sampled_from(("id", "class", "data-edge"))
TEXTS = st.text(max_size=8) | st.sampled_from(('a"b', "<i>", "a & b", "l'été"))
ELEMENTS = st.recursive(
    st.tuples(st.just("path"), st.dictionaries(NAMES, TEXTS), TEXTS),
    lambda inner: st.tuples(
        st.just("g"), st.dictionaries(NAMES, TEXTS), st.lists(inner, max_size=3)
    ),
)
CONTROLS = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")


def lines_of(tag: str, known: dict[str, str], inside: str | list[object]) -> list[str]:
    attributes = "".join(attribute(name, value) for name, value in known.items())
    if isinstance(inside, str):
        return [element(tag, attributes, inside)]
    return nested(tag, attributes, [line for each in inside for line in lines_of(*each)])


def tree_of(tag: str, known: dict[str, str], inside: str | list[object]) -> ElementTree.Element:
    made = ElementTree.Element(tag, {k: CONTROLS.sub("\ufffd", v) for k, v in known.items()})
    if isinstance(inside, str):
        made.text = CONTROLS.sub("\ufffd", inside)
    else:
        made.extend(tree_of(*each) for each in inside)
    return made


@given(ELEMENTS)
def test_elements_are_written_as_any_writer_of_xml_writes_them(drawn):
    tree = tree_of(*drawn)
    ElementTree.indent(tree)
    assert "\n".join(lines_of(*drawn)) == ElementTree.tostring(tree, encoding="unicode")
