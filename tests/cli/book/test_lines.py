"""Printed lines as HTML."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from tests.cli.book.opened import tags, text
from trueup.cli.book.lines import html_lines, linked, linked_words
from trueup.cli.page import command, said
from trueup.cli.render.table import PlainTable

NO_BREAK = "\N{NO-BREAK SPACE}"
KNOWN = {"market-blouse": "pattern/market-blouse", "sleeve": "block/sleeve"}


@given(st.text(max_size=60))
def test_no_text_makes_markup(words):
    made = html_lines([said(words), words, Padding(said(words), (0, 0, 0, 2))], {})
    assert {tag.name for tag in tags(made)} <= {"p"}
    table = html_lines([PlainTable(("edge", words), [(words, words)])], {})
    assert not {tag.name for tag in tags(table)} - {
        *("div", "table", "thead", "tbody", "tr", "th", "td")
    }


def test_a_name_with_a_hyphen_leads_to_its_page_wherever_it_stands():
    made = linked_words("seen on market-blouse, and on new-market-blouse", KNOWN)
    links = [tag for tag in tags(made) if tag.name == "a"]
    assert [link.attributes["href"] for link in links] == ["#/pattern/market-blouse"]


def test_a_name_of_one_word_leads_to_its_page_only_where_it_stands_alone():
    assert "<a" not in linked_words("the sleeve is long", KNOWN)
    assert 'href="#/block/sleeve"' in linked_words("sleeve", KNOWN)


@given(st.text(alphabet="ab-.<&1 ", max_size=30))
def test_linking_leaves_the_words_as_they_are(words):
    whole = "".join("".join(tag.text) for tag in tags(f"<p>{linked_words(words, {'a-b': 'x'})}"))
    assert " ".join(whole.split()).count("a") == words.count("a")


def test_names_in_a_list_are_linked_one_by_one():
    made = linked("market-blouse, other", KNOWN)
    assert made == '<a href="#/pattern/market-blouse">market-blouse</a>, other'


def test_a_command_stays_one_line_to_be_copied():
    (box, line) = tags(html_lines([command("trueup decide 'a b'")], {}))
    assert box.name == "pre"
    assert "".join(line.text) == "trueup decide 'a b'"


def test_a_table_names_its_rows_and_sets_numbers_to_the_right():
    made = html_lines([PlainTable(("edge", "moved"), [("a", "1 mm")], right=("moved",))], {})
    found = tags(made)
    assert [(t.name, t.attributes) for t in found if t.name == "th"] == [
        ("th", {"scope": "col", "role": "columnheader"}),
        ("th", {"scope": "col", "role": "columnheader", "class": "number"}),
        ("th", {"scope": "row", "role": "rowheader"}),
    ]
    assert [t.attributes["aria-label"] for t in found if t.name == "table"] == [
        "Table of edge, moved"
    ]
    assert text(made).split() == ["edge", "moved", "a", "1", "mm"]


def test_on_a_phone_every_cell_can_be_told_by_the_head_it_stands_under():
    table = PlainTable(("edge", "", "before -> after"), [("a", "+ can", "9 mm -> 8 mm (-1 mm)")])
    found = tags(html_lines([table], {}))
    cells = [(t.attributes["data-head"], t.text) for t in found if "data-head" in t.attributes]
    assert cells == [
        ("", [f"+{NO_BREAK}can"]),
        ("before → after", ["9_mm → 8_mm (−1_mm)".replace("_", NO_BREAK)]),
    ]


def test_no_line_of_a_cell_ends_between_a_measure_and_its_unit():
    words = Text("village-block 25 mm to 4 1/2 in\nin all 7 degrees")
    found = tags(html_lines([PlainTable(("a", "b"), [("-1 cm", words)])], {}))
    head, cell = (["".join(t.text) for t in found if t.name == name][-1] for name in ("th", "td"))
    assert head.replace(NO_BREAK, "_") == "-1_cm".replace("-", "\N{MINUS SIGN}")
    assert cell.replace(NO_BREAK, "_") == "village-block 25_mm to 4 1/2_inin all 7_degrees"


def test_what_is_set_in_is_shown_as_a_part_and_a_sign_stays_with_its_word():
    rows = [("armhole-seam", "! outside"), ("  front", "+ matches"), ("  back", "a + b")]
    made = html_lines([PlainTable(("seam", ""), rows)], {})
    assert re.findall(r"<span class=inset>(\w+)</span>", made) == ["front", "back"]
    for held in ("!_outside", "+_matches", "a + b"):
        assert held.replace("_", NO_BREAK) in made


def test_arrows_and_minus_signs_are_set_and_commands_are_left_as_they_are_typed():
    (words,) = tags(html_lines([said("from 20 mm -> 17 mm (-3 mm), on 2025-03-01 at a-b")], {}))
    told = [each.replace(NO_BREAK, "_") for each in words.text]
    assert told == ["from 20_mm → 17_mm (−3_mm), on 2025-03-01 at a-b"]
    _, line = tags(html_lines([command("trueup amend a-1 --by -3mm --why 'x -> y, -3 mm'")], {}))
    assert line.text == ["trueup amend a-1 --by -3mm --why 'x -> y, -3 mm'"]


def test_what_has_no_html_is_refused_and_not_left_out():
    with pytest.raises(TypeError, match="Table"):
        html_lines([Table()], {})
