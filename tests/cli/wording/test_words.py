"""Everything that is found has words, with just the facts it has; no fact reaches a maker bare."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import trueup.cli
import trueup.geometry
import trueup.lineage
from trueup.cli.wording.refusals import NOUGHT
from trueup.cli.wording.words import SENTENCES, worded
from trueup.geometry.errors import CannotChange
from trueup.geometry.said import Said, parts, said
from trueup.geometry.units import Unit
from trueup.lineage.errors import CannotStep

FLOORS = [Path(floor.__path__[0]) for floor in (trueup.geometry, trueup.lineage, trueup.cli)]
FIELD = re.compile(r"\{(\w+|[*+])(?::(\w+))?\}")
LENGTHS = ("mm", "fine", "change", "most", "least", "metres", "degrees", "has")
FORMS = (*LENGTHS, "beyond", "kind", "place", "point")
HOW_A_LENGTH_IS_WRITTEN = {"write-length", "is-a-unit"}


def test_no_two_rooms_word_one_refusal_each_its_own_way() -> None:
    rooms = (Path(trueup.cli.__path__[0]) / "wording" / "refusals").glob("*.py")
    tables = [
        line.value
        for file in rooms
        for line in ast.parse(file.read_text()).body
        if isinstance(line, ast.Assign) and isinstance(line.value, ast.Dict)
        if ast.unparse(line.targets[0]) not in ("NOUGHT", "REFUSALS")
    ]
    named = [ast.literal_eval(key) for table in tables for key in table.keys if key]
    assert len(named) > 250
    assert {name for name in named if named.count(name) > 1} == set()


def names_said() -> Iterator[str]:
    """Yield the name of every sentence that is said anywhere."""
    for floor in FLOORS:
        for file in floor.rglob("*.py"):
            code = file.read_text()
            # A line that the command prints is called the same; only facts have a name.
            is_facts = "from trueup.cli.page import" not in code
            yield from _names_in(code, "said" if is_facts else "facts.said")


def _names_in(code: str, saying: str) -> Iterator[str]:
    for node in ast.walk(ast.parse(code)):
        if not isinstance(node, ast.Call) or not node.args:
            continue
        if ast.unparse(node.func) in (saying, "self._said"):
            yield from _texts(node.args[0])


def _texts(node: ast.expr) -> Iterator[str]:
    match node:
        case ast.Constant(value=str(text)):
            yield text
        case ast.IfExp(body=one, orelse=other):
            yield from (*_texts(one), *_texts(other))
        case ast.JoinedStr():
            yield "lengthen-hem"  # made of a verb and a line: tried by the remedies that say them


MADE_OF_PARTS = {
    *("lengthen-hem", "shorten-hem", "lengthen-shoulder", "shorten-shoulder"),
    *("lengthen-line", "shorten-line"),
}


def test_every_sentence_that_is_said_has_words_and_all_words_are_said() -> None:
    assert {*names_said()} | MADE_OF_PARTS == {*SENTENCES}


@pytest.mark.parametrize("name", sorted(SENTENCES))
def test_a_sentence_has_no_length_of_its_own_and_knows_its_forms(name: str) -> None:
    sentence = SENTENCES[name]
    assert all(form in FORMS for _, form in FIELD.findall(sentence) if form)
    if name not in HOW_A_LENGTH_IS_WRITTEN:
        assert not re.search(r"\b(mm|cm|inch)\b", FIELD.sub("", sentence))


def test_lengths_are_in_the_makers_unit_and_limits_never_beyond_themselves() -> None:
    made = said("smaller-step", kind="scoop-armhole", by=23.2)
    assert worded(made, Unit.INCH) == 'make the step "hollow the armhole" with 7/8 in'
    assert worded(made, Unit.CENTIMETRE) == 'make the step "hollow the armhole" with 2.3 cm'
    # 10 mm are 6.3 sixteenths of an inch, 20 mm are 12.6: what is told has to be taken.
    between = said("between", low=10.0, high=20.0)
    assert worded(between, Unit.INCH) == "it lies between 7/16 in and 3/4 in"
    below = said("between", low=-20.0, high=20.0)
    assert worded(below, Unit.INCH) == "it lies between -3/4 in and 3/4 in"


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


def test_text_of_an_earlier_version_is_told_as_it_stands_there() -> None:
    assert worded("the ease is 16.0 mm", Unit.CENTIMETRE) == "the ease is 16.0 mm"
    old = said("left-out", kind="scoop-armhole", error="by 8 mm too much.")
    assert worded(old, Unit.INCH) == "scoop-armhole was left out: by 8 mm too much."


@pytest.mark.parametrize("what", sorted(NOUGHT))
def test_a_limit_that_is_nothing_in_the_makers_unit_is_told_as_nothing(what: str) -> None:
    limit = said(what, by=0.4, intake=0.4)
    assert "0.4 mm" in worded(limit, Unit.MILLIMETRE)
    assert not re.search(r"\d", worded(limit, Unit.CENTIMETRE))
    assert not re.search(r"\d", worded(limit, Unit.INCH))


def test_what_a_maker_wrote_stays_as_she_wrote_it() -> None:
    quoted = parts("note 1: ", said("amount-noted", by=8.0), ": 8 mm too long")
    assert worded(quoted, Unit.CENTIMETRE) == "note 1: , 0.8 cm: 8 mm too long"


def test_below_the_command_line_an_error_tells_its_facts() -> None:
    refused = CannotChange("scoop-armhole", "front", "armhole", said("cap-flat"), said("no-amount"))
    assert str(refused) == (
        "cannot-change (kind scoop-armhole, place front.armhole): cap-flat; no-amount"
    )
    assert str(CannotStep("blouse", refused.says)) == f"On blouse: {refused}."


def test_a_part_that_is_shorter_than_its_line_has_no_ease_of_less_than_nothing() -> None:
    facts = {"section": "front", "low": 10.0, "high": 18.0}
    short = worded(said("section-ease", ease=-2.6, **facts), Unit.MILLIMETRE)
    assert short.startswith("Its front part is 2.6 mm shorter than what it is sewn to; 10 mm to")
    enough = worded(said("section-ease", ease=0.0, **facts), Unit.MILLIMETRE)
    assert enough.startswith("Its front part has 0 mm of it; 10 mm to 18 mm are allowed")
