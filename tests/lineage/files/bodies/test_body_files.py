"""The file of a body: read into its record, written with what a maker put into it, or refused."""

import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trueup.cli.wording.words import worded_error
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.bodies.errors import NothingMeasured
from trueup.lineage.files.bodies.known import known_of
from trueup.lineage.files.bodies.naming import called, name_for
from trueup.lineage.files.bodies.reading import is_body_file, read_body
from trueup.lineage.files.bodies.records import BodyRecord, MeasurementSet
from trueup.lineage.files.bodies.writing import body_text
from trueup.lineage.files.reading import read_node
from trueup.lineage.files.records import DraftedFor, replace
from trueup.lineage.files.writing import node_text

PATH = "bodies/ada.toml"
SPRING, AUTUMN = datetime.date(2025, 3, 31), datetime.date(2025, 9, 1)
FULL = """\
# Ada, of the village players
format = 1
name = "ada"
wearer = "Ada Lovelace"
shoe = 39

[[sets]]
date = 2025-09-01  # after the summer
bust = "93cm"

# before it
[[sets]]
date = 2025-03-31
taken_by = "Mina"
age = 36
words = "over a shift"
bust = "92 cm"
waist = 70
instep = "9 1/2in"

# measured in the fitting room
"""


def test_all_that_a_file_says_is_read_oldest_first() -> None:
    found = read_body(PATH, FULL.encode())
    assert (found.name, found.wearer, found.path) == ("ada", "Ada Lovelace", PATH)
    assert [each.date for each in found.sets] == [SPRING, AUTUMN]
    spring = found.sets[0]
    assert (spring.taken_by, spring.age, spring.words) == ("Mina", 36, "over a shift")
    assert spring.taken == {"bust": "92 cm", "waist": "70", "instep": "9 1/2in"}


def test_another_set_leaves_everything_else_as_the_maker_wrote_it() -> None:
    found = read_body(PATH, FULL.encode())
    newer = MeasurementSet(datetime.date(2026, 1, 5), {"waist": "71cm"}, words="in January")
    written = body_text(replace(found, sets=(*found.sets, newer)), FULL.encode()).decode()
    assert [line for line in FULL.split("\n") if line not in written.split("\n")] == []
    again = read_body(PATH, written.encode())
    assert again.sets == (*found.sets, newer)
    assert written.rstrip().endswith("# measured in the fitting room")


def test_a_measurement_is_added_to_a_set_and_a_set_taken_out() -> None:
    found = read_body(PATH, FULL.encode())
    more = replace(found.sets[1], taken={**found.sets[1].taken, "hip": "98cm"})
    written = body_text(replace(found, sets=(more,)), FULL.encode())
    assert read_body(PATH, written).sets == (more,)
    assert b"# after the summer" in written


def test_a_new_file_is_read_as_what_was_written() -> None:
    made = BodyRecord("ada", "Ada", (MeasurementSet(SPRING, {"bust": "92cm"}, "Mina", 9, "x"),))
    assert read_body(PATH, body_text(made)) == made


TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), max_size=20)
SETS = st.builds(
    MeasurementSet,
    st.dates(),
    st.dictionaries(st.from_regex(r"\A[a-z]{1,8}(-[a-z]{1,5})?\Z"), st.just("92cm"), max_size=4),
    TEXTS,
    st.none() | st.integers(0, 130),
    TEXTS,
)


@given(st.lists(SETS, max_size=4, unique_by=lambda each: each.date), TEXTS.filter(str.strip))
def test_any_body_is_read_as_it_was_written(sets: list[MeasurementSet], wearer: str) -> None:
    words = {"date", "age", "words"}
    kept = [replace(s, taken={k: v for k, v in s.taken.items() if k not in words}) for s in sets]
    made = BodyRecord("ada", wearer, tuple(sorted(kept, key=lambda each: each.date)))
    assert read_body(PATH, body_text(made)) == made


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('name = "ada"', 'name = "bert"', "not that of its file"),
        ("format = 1", "format = 7", "this trueup reads format 1"),
        ('wearer = "Ada Lovelace"', "", "wearer"),
        ('wearer = "Ada Lovelace"', 'wearer = " "', "of nobody"),
        ('bust = "93cm"', 'bust = "wide"', "no length"),
        ('bust = "93cm"', 'bust = "-93cm"', "above nought"),
        ('bust = "93cm"', 'bust = "0"', "above nought"),
        ('bust = "93cm"', "bust = true", "neither a length nor a number"),
        ('bust = "93cm"', "bust = 2025-01-01", "neither a length nor a number"),
        ('bust = "93cm"', "bust = {cm = 93}", "neither a length nor a number"),
        ('bust = "93cm"', '"Bust Girth" = "93cm"', "no name of a measurement"),
        ("date = 2025-09-01", "date = 2025-03-31", "stands twice"),
        ("date = 2025-09-01", 'date = "soon"', "date"),
        ("date = 2025-09-01", "", "date"),
        ("age = 36", "age = 360", "no age"),
        ("age = 36", 'age = "young"', "age"),
        ("[[sets]]", "[sets]", ""),
        ('taken_by = "Mina"', "taken_by = 3", "taken_by"),
    ],
)
def test_what_a_file_says_wrongly_is_said_in_one_sentence(old: str, new: str, told: str) -> None:
    text = FULL.replace(old, new, 1)
    with pytest.raises(BadRecord) as refused:
        read_body(PATH, text.encode())
    sentence = worded_error(refused.value)
    assert told in sentence
    assert PATH in sentence
    assert "\n" not in sentence


def test_more_sets_than_anybody_takes_are_refused() -> None:
    text = FULL + "[[sets]]\ndate = 1999-01-01\n" * 1001
    with pytest.raises(BadRecord, match="sets"):
        read_body(PATH, text.encode())


def test_what_a_set_does_not_hold_is_as_it_was_measured_last() -> None:
    found = read_body(PATH, FULL.encode())
    now = known_of(found)
    assert now.texts == {"bust": "93cm", "waist": "70", "instep": "9 1/2in"}
    assert now.older(["bust", "waist", "hip"]) == {"waist": SPRING}
    assert known_of(found, SPRING).texts["bust"] == "92 cm"
    with pytest.raises(NothingMeasured, match="2025-03-31, 2025-09-01"):
        known_of(found, datetime.date(2025, 4, 1))
    with pytest.raises(NothingMeasured, match="record what was"):
        known_of(BodyRecord("ada", "Ada"))


def test_a_wearer_is_found_by_any_way_of_writing_the_name() -> None:
    ada = read_body(PATH, FULL.encode())
    zoe = BodyRecord("zoe-ann", "Zoë Ann")
    for name, body in (("ada", ada), ("ADA LOVELACE", ada), ("zoe ann", zoe), ("Zoë  Ann", zoe)):
        assert called((ada, zoe), name) is body
    assert called((ada, zoe), "bert") is None
    assert name_for("3rd Witch") is None
    assert name_for("--help") == "help"


def test_only_files_right_in_the_folder_are_bodies() -> None:
    names = ("bodies/ada.toml", "bodies/deep/ada.toml", "bodies/ada.txt", "blocks/ada.toml")
    assert [is_body_file(each) for each in names] == [True, False, False, False]


def test_bodies_of_every_format_are_read_as_they_were() -> None:
    frozen = Path(__file__).parents[3] / "frozen" / "format-1"
    content = (frozen / "bodies/ada.toml").read_bytes()
    found = read_body("bodies/ada.toml", content)
    assert known_of(found).texts == {
        "bust": "93cm",
        "waist": "71cm",
        "back-length": "38cm",
        "sleeve-length": "54cm",
    }
    assert body_text(found, content) == content
    block = (frozen / "blocks/grown.toml").read_bytes()
    node = read_node("blocks/grown.toml", block)
    assert node.drafted_for == DraftedFor("ada", datetime.date(2026, 3, 31))
    (anew,) = node.remeasured
    assert (anew.id, anew.was) == ("9a12d67f", {"bust": "88cm", "waist": "68cm"})
    assert node_text(node, block) == block
