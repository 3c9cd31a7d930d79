"""Drawings from strangers: one sentence for each, and nothing else escapes."""

import contextlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.refusals import refusing
from trueup.cli.drawing.svg import draft_svg
from trueup.cli.wording.words import worded_error
from trueup.lineage.drawings.tracing.drafting import draft_from
from trueup.lineage.drawings.tracing.drawing import describing
from trueup.lineage.drawings.tracing.errors import CannotTrace, UnnamedLines
from trueup.lineage.drawings.tracing.trace import traced
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import MOST_EDGES, MOST_MOVES, MOST_PIECES, MOST_POINTS

SVG = 'svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
HEAD = f'<{SVG} width="9mm" height="9mm" viewBox="0 0 9 9">'
WHOLE = describing(draft_svg(block(), "b"), block()).encode()


def holding(inside: str) -> bytes:
    return f"{HEAD}{inside}</svg>".encode()


HOSTILE = {
    "nothing": b"",
    "no XML": b"\x00\xff",
    "no SVG": b"<html/>",
    "entities": b'<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>' + holding("&b;"),
    "a file elsewhere": b'<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>'
    + holding("&a;"),
    "a script": holding("<script>alert(1)</script>"),
    "a handler": holding('<g onload="alert(1)"/>'),
    "a link outside": holding('<a xlink:href="https://example.org/"/>'),
    "a picture": holding('<image xlink:href="#x"/>'),
    "a use": holding('<g id="x"/><use xlink:href="#x"/>'),
    "a style from outside": holding("<style>@import url(https://example.org/x.css);</style>"),
    "foreign": holding("<foreignObject/>"),
    "not a number": holding('<path id="a.b" d="M nan 0 L 1 1"/>'),
    "endless": holding('<path id="a.b" d="M inf 0 L 1 1"/>'),
    "huge": holding('<path id="a.b" d="M 0 0 L 1e99 1"/>'),
    "huge by relative steps": holding('<path id="a.b" d="M 0 0 l 9e4 0 l 9e4 0"/>'),
    "huge by transform": holding('<path transform="scale(1e9)" id="a.b" d="M 0 0 L 1 1"/>'),
    "a million points": holding(f'<path id="a.b" d="M 0 0 {"l 1 1 " * (MOST_POINTS + 1)}"/>'),
    "too many paths": holding('<path id="a.b" d="M 0 0 L 1 1"/>' * 20_000),
    "many and much bent": holding(f'<path id="a.b" d="M 0 0 {"C 9e4 0 -9e4 9e4 0 0 " * 5_000}"/>'),
    "a piece of many edges": holding(
        "".join(f'<path id="a.e{n}" d="M {n} 0 L {n + 1} 0"/>' for n in range(4_000))
    ),
    "many moves": holding(f'<g transform="{"translate(0) " * 200_000}"><path id="a.b"/></g>'),
    "many blanks": holding(f'<path transform="scale(1){" " * 999_999}!" id="a.b" d="M 0 0"/>'),
    "many pieces": holding(
        "".join(f'<path id="p{n}.a" d="M 0 0 L {n} 9"/>' for n in range(MOST_PIECES + 1))
    ),
    "many edges described": holding(
        '<metadata id="trueup-draft">{"form":1,"pieces":[{"name":"p","edges":['
        + ",".join(['{"name":"e","starts_at":"a","ends_at":"b","parts":[]}'] * (MOST_EDGES + 1))
        + "]}]}</metadata>"
    ),
    "deep": holding("<g>" * 4000 + "</g>" * 4000),
    "too large": b" " * 5_000_000,
    "a circle": holding('<circle r="3"/>'),
    "nested": holding("<svg/>"),
    "a broken description": holding('<metadata id="trueup-draft">{"form":1</metadata>'),
    "a deep description": holding(f'<metadata id="trueup-draft">{"[" * 99999}</metadata>'),
    "an endless description": holding(
        '<metadata id="trueup-draft">{"form":1,"pieces":[],"seams":[{"name":"a","side":[],'
        '"mate":[],"ease_low":1e999,"ease_high":0,"tolerance":0}]}</metadata>'
    ),
}


@pytest.mark.parametrize("content", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_drawing_gets_one_sentence(content):
    with pytest.raises((CannotTrace, UnnamedLines)) as told:
        draft_from(content, {}, "stranger.svg", others=False)
    sentence = str(told.value)
    assert sentence.startswith("stranger.svg")
    assert "\n" not in sentence
    assert len(sentence) < 400


@settings(max_examples=100)
@given(st.data())
def test_whatever_is_done_to_a_drawing_only_declared_errors_escape(data):
    spoilt = bytearray(WHOLE)
    for _ in range(data.draw(st.integers(1, 6))):
        at = data.draw(st.integers(0, len(spoilt) - 1))
        end = min(len(spoilt), at + data.draw(st.integers(0, 40)))
        spoilt[at:end] = data.draw(
            st.sampled_from([b"", b"0", b"9e9", b"-", b"<", b'"', b"Z", b"null", b"1e308", b" "])
        )
    told = ""
    try:
        draft_from(bytes(spoilt), {}, "x.svg", others=data.draw(st.booleans()))
    except (CannotTrace, UnnamedLines) as error:
        told = worded_error(error)
    assert "\n" not in told


@settings(max_examples=100)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["a.b", "a.c", "a.d", "a.dart.x", "a.notch.n", "a.grainline", "z"]),
            st.text("MLCZHVQ 0123456789.-e,", max_size=40),
        ),
        max_size=6,
    )
)
def test_whatever_is_drawn_only_declared_errors_escape(lines):
    paths = "".join(f'<path id="{name}" d="{drawn}"/>' for name, drawn in lines)
    with contextlib.suppress(CannotTrace, UnnamedLines):
        draft_from(holding(paths), {}, "x.svg", others=True)


coordinate = st.integers(0, 4).map(lambda n: n * 10)


@settings(max_examples=100)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["a.b", "a.c", "a.d.1", "a.d.2", "a.dart.x", "a.notch.n"]),
            st.lists(st.tuples(coordinate, coordinate), min_size=2, max_size=4),
        ),
        min_size=2,
        max_size=6,
        unique_by=lambda line: line[0],
    )
)
def test_however_lines_lie_they_make_a_piece_or_a_sentence(lines):
    paths = "".join(
        f'<path id="{name}" d="M {" L ".join(f"{x} {y}" for x, y in points)}"/>'
        for name, points in lines
    )
    try:
        found = traced(holding(paths), {}, "x.svg", others=True).draft
    except BadRecord:
        return
    for piece in found.pieces if found else ():
        assert piece.is_simple
        assert piece.area > 0


def test_no_name_becomes_markup():
    content = holding('<path id="&lt;img onerror=x&gt;" d="M 0 0 L 9 9"/>')
    with pytest.raises(UnnamedLines) as told:
        draft_from(content, {}, "x.svg", others=False)
    assert told.value.lines[0].id == "<img onerror=x>"


@pytest.mark.parametrize("name", ["many moves", "many pieces", "many edges described"])
def test_more_of_anything_than_a_pattern_has_is_what_it_is_refused_for(name):
    with refusing(CannotTrace, match=r"100 moves|200"):
        draft_from(HOSTILE[name], {}, "stranger.svg", others=False)


def test_as_many_moves_as_are_read_are_read():
    moved = f'<path transform="{"translate(0) " * MOST_MOVES}" id="p1" d="M 0 0 L 1 1"/>'
    with pytest.raises(UnnamedLines):
        draft_from(holding(moved), {}, "drawn.svg", others=False)
