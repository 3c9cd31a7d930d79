"""Everything that is found has words, with just the facts it has; no fact reaches a maker bare."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import trueup.geometry
import trueup.lineage
from trueup.cli.wording.words import SENTENCES, worded
from trueup.geometry.said import Said, said
from trueup.geometry.units import Unit

FLOORS = [Path(floor.__path__[0]) for floor in (trueup.geometry, trueup.lineage)]
FIELD = re.compile(r"\{(\w+|\*)(?::(\w+))?\}")
LENGTHS = ("mm", "fine", "change", "most", "least", "degrees")


def names_said() -> Iterator[str]:
    """Yield the name of every sentence that the two lower floors say."""
    for floor in FLOORS:
        for file in floor.rglob("*.py"):
            for node in ast.walk(ast.parse(file.read_text())):
                if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "said":
                    yield from _texts(node.args[0]) if node.args else ()
                if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "_said":
                    yield from _texts(node.args[0])


def _texts(node: ast.expr) -> Iterator[str]:
    match node:
        case ast.Constant(value=str(text)):
            yield text
        case ast.IfExp(body=one, orelse=other):
            yield from (*_texts(one), *_texts(other))
        case ast.JoinedStr():
            yield "lengthen-hem"  # made of a verb and a line: tried by the remedies that say them


MADE_OF_PARTS = {"lengthen-hem", "shorten-hem", "lengthen-shoulder", "shorten-shoulder"}


def test_every_sentence_that_is_said_has_words_and_all_words_are_said() -> None:
    assert {*names_said()} | MADE_OF_PARTS == {*SENTENCES}


@pytest.mark.parametrize("name", sorted(SENTENCES))
def test_a_sentence_has_no_length_of_its_own_and_knows_its_forms(name: str) -> None:
    sentence = SENTENCES[name]
    assert all(form in LENGTHS for _, form in FIELD.findall(sentence) if form)
    assert not re.search(r"\b(mm|cm|inch)\b", FIELD.sub("", sentence))


def test_lengths_are_in_the_makers_unit_and_limits_never_beyond_themselves() -> None:
    made = said("smaller-step", kind="scoop-armhole", by=23.2)
    assert worded(made, Unit.INCH) == "make the step scoop-armhole with 7/8 in"
    assert worded(made, Unit.CENTIMETRE) == "make the step scoop-armhole with 2.3 cm"


def test_sentences_stand_after_a_sentence() -> None:
    part = said("section-ease", section="front", ease=7.0, low=10.0, high=20.0)
    whole = said(
        "seam-ease", part, side="sleeve.cap", mate="front.armhole", side_mm=400.0, mate_mm=364.0,
        ease=36.0, low=25.0, high=45.0,
    )  # fmt: skip
    told = worded(whole, Unit.MILLIMETRE)
    assert told.endswith(
        "the ease is 36 mm; 25 mm to 45 mm are allowed. Its front part has 7 mm of it; 10 mm to "
        "20 mm are allowed there."
    )


@pytest.mark.parametrize(
    "strange",
    [
        Said("of-tomorrow", {"by": 3.0, "where": "{0}{piece.__class__}"}),
        Said("smaller-step", {}),
        Said("smaller-step", {"by": "{by:most}", "kind": "x"}),
        Said("refit", {"by": 1e9, "how": "{*}", "ease": -0.0}),
    ],
)
def test_what_a_strangers_file_says_is_told_and_never_carried_out(strange: Said) -> None:
    assert worded(strange, Unit.INCH)


def test_text_of_an_earlier_version_is_told_in_the_makers_unit() -> None:
    assert worded("the ease is 16.0 mm", Unit.CENTIMETRE) == "the ease is 1.6 cm"
