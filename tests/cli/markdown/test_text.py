"""Texts in Markdown are shown as they were written."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trueup.cli.markdown.text import page, plain, table


@pytest.mark.parametrize(
    ("written", "escaped"),
    [
        ("front_armhole *binds*", r"front\_armhole \*binds\*"),
        ("<script>alert(1)</script>", r"\<script>alert(1)\</script>"),
        ("[here](http://a.example)", r"\[here\](http\://a.example)"),
        ("a | b\nc", r"a \| b c"),
        ("# no heading", r"\# no heading"),
        ("> no quotation", r"\> no quotation"),
        ("- no list", r"\- no list"),
        ("12. no list", r"12\. no list"),
        ("12.5 mm", "12.5 mm"),
        ("&copy;", r"\&copy;"),
        ("\x1b[31mred", r"\\x1b\[31mred"),
    ],
)
def test_marks_are_escaped(written: str, escaped: str) -> None:
    assert plain(written) == escaped


@given(st.text())
def test_no_text_leaves_its_line_or_its_cell(text: str) -> None:
    written = plain(text)
    assert len(written.splitlines()) <= 1
    assert written.isprintable()
    assert not re.search(r"(?<!\\)(?:\\\\)*[|<`*\[]", written)


def test_a_table_has_as_many_cells_in_each_row() -> None:
    lines = table(("a", "b"), [("x|y", 2)])
    assert lines == ["| a | b |", "| --- | --- |", r"| x\|y | 2 |"]
    assert page(["", "a", ""]) == "a\n"
