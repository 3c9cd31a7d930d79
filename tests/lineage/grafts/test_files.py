"""A graft at rest: what its file says, and that an earlier program cannot take it for less."""

import pytest

from tests.lineage.making import child, step
from trueup.lineage.errors import BadRecord, Cycle
from trueup.lineage.files.reading import read_node
from trueup.lineage.files.records import NodeRecord, Role, StyleRecord, replace
from trueup.lineage.files.unreadable import sift
from trueup.lineage.files.writing import node_text

HELD = "0" * 40
GRAFT = replace(
    child("graft", replace(step("s1", "lengthen", by="10mm"), stands_in=True), of="ada"),
    style=StyleRecord("blouse", HELD, Role.STYLE, ("s2",)),
)


def test_a_graft_comes_back_as_it_was_written() -> None:
    text = node_text(GRAFT)
    assert b"format = 2\n" in text
    assert read_node("patterns/graft.toml", text) == GRAFT


def test_its_style_is_changed_in_place_and_comments_stay() -> None:
    text = node_text(GRAFT).replace(b"[style]", b"# from the blouse\n[style]")
    changed = replace(GRAFT, style=StyleRecord("blouse"))
    again = node_text(changed, text)
    assert b"# from the blouse" in again
    assert read_node("patterns/graft.toml", again) == changed


def test_a_file_becomes_one_of_the_newer_format_with_its_first_bound_amount() -> None:
    plain = child("blouse", step("s1", "lengthen", by="10mm"))
    text = node_text(plain)
    assert b"format = 1\n" in text
    bound = replace(step("s2", "lengthen", by="10mm"), values={"by": "bust/80"})
    again = node_text(replace(plain, steps=(*plain.steps, bound)), text)
    assert b"format = 2\n" in again
    assert b'by = "bust/80"' in again


def test_a_text_that_only_looks_so_is_no_amount() -> None:
    label = replace(step("s2", "lengthen", by="10mm"), kind="label-piece", values={"text": "A/B"})
    assert b"format = 1\n" in node_text(child("blouse", label))


@pytest.mark.parametrize(
    ("field", "reason"),
    [
        ('takes = "decision"', "style or corrections"),
        ('takes = "fit"', "invalid enum value"),
        ('hold = "yesterday"', "full id of a commit"),
        ('without = ["a", "a"]', "stands twice"),
    ],
)
def test_what_a_style_cannot_be_is_told_in_one_sentence(field: str, reason: str) -> None:
    text = (
        f'format = 2\nname = "graft"\n[style]\nname = "blouse"\n{field}\n[[parents]]\nname = "a"\n'
    )
    with pytest.raises(BadRecord) as caught:
        read_node("patterns/graft.toml", text.encode())
    assert reason in caught.value.reason


def test_a_step_stands_in_for_one_of_a_style_only() -> None:
    text = node_text(GRAFT).decode()
    start, end = text.index("[style]"), text.index("[[parents]]")
    with pytest.raises(BadRecord, match="no style"):
        read_node("patterns/graft.toml", (text[:start] + text[end:]).encode())


def test_patterns_that_take_their_style_from_each_other_are_told_as_a_ring() -> None:
    nodes = [
        NodeRecord("village", True),
        replace(child("one"), style=StyleRecord("two")),
        replace(child("two"), style=StyleRecord("one")),
        replace(child("three"), style=StyleRecord("one")),
    ]
    found = sift(nodes, {})
    assert set(found.nodes) == {"village"}
    assert isinstance(found.unreadable["patterns/one.toml"], Cycle)
