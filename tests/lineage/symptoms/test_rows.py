"""The rows of faults of fit: each can be carried out, and says where it comes from."""

import re
from typing import Any

import pytest

from tests.lineage.making import change
from trueup.geometry.changes import kinds, parameters, read_change
from trueup.geometry.drafting import draft_block
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.symptoms.rows import (
    PIECE,
    ROWS,
    SOURCES,
    SYMPTOMS,
    Area,
    Attested,
    Check,
    SymptomRow,
    read_rows,
)

BODY = {"bust": 880.0, "waist": 680.0, "back-length": 380.0, "sleeve-length": 540.0}
CHECKS = [(row, check) for row in ROWS.values() for check in row.checks]
NAMES = [f"{row.symptom}-{number}" for row in ROWS.values() for number, _ in enumerate(row.checks)]

every_row = pytest.mark.parametrize("row", ROWS.values(), ids=ROWS)
every_check = pytest.mark.parametrize(("row", "check"), CHECKS, ids=NAMES)


@pytest.fixture(scope="module")
def dress() -> Draft:
    """A drafted block, lengthened so that it has a hip as well."""
    return change("lengthen", by="300mm").apply(draft_block("bust-proportion", BODY))


def test_there_are_at_least_thirty_rows_and_each_has_words() -> None:
    assert len(ROWS) >= 30
    assert set(SYMPTOMS) == set(ROWS)
    for symptom, words in SYMPTOMS.items():
        assert re.fullmatch(r"[a-z]+(-[a-z]+)*", symptom)
        assert words[0].islower()
        assert not words.endswith(".")


@every_row
def test_a_row_names_places_of_a_drafted_block(row: SymptomRow, dress: Draft) -> None:
    levels = {level.name for piece in dress.pieces for level in piece.levels}
    assert row.places
    assert set(row.places) <= {*dress.edge_names, *levels}


@every_row
def test_the_shoulder_is_checked_before_what_hangs_from_it(row: SymptomRow) -> None:
    ranks = [check.area.rank for check in row.checks]
    assert ranks == sorted(ranks)
    assert list(Area)[:3] == ["size", "grain", "shoulder"]


@every_check
def test_a_check_says_where_it_comes_from(row: SymptomRow, check: Check) -> None:
    attested = check.mark in (Attested.PUBLISHED, Attested.IDEA_PUBLISHED)
    assert not attested or check.sources
    assert check.mark is not Attested.COMMON_PRACTICE or not check.sources
    assert set(check.sources) <= set(SOURCES)
    for text in (check.look_at, check.cause, check.remedy):
        assert text
        assert not text.endswith(".")


def test_every_source_is_used() -> None:
    assert {tag for _, check in CHECKS for tag in check.sources} == set(SOURCES)


def test_no_source_is_a_web_site() -> None:
    """A source is a handbook, an extension bulletin or a standard, which stays as it is."""
    for title in SOURCES.values():
        assert not re.search(r"\b\w+\.[a-z]{2,4}\b|www|http|blog|magazine", title), title


@every_check
def test_amounts_are_sane(row: SymptomRow, check: Check) -> None:
    if check.typical is None:
        assert check.largest is None
        return
    low, high = check.typical
    assert 0 < low <= high
    # No amount of fitting on half a pattern goes beyond two inches, by any source.
    assert high <= (check.largest or high) <= 50.8


@every_check
def test_no_amount_passes_for_published(row: SymptomRow, check: Check) -> None:
    """Of none a page is known; whoever finds one says here for which symptom."""
    assert check.amounts is not Attested.PUBLISHED
    assert check.amounts in list(Attested)


@every_check
def test_the_edge_at_fault_and_what_is_read_are_there(
    row: SymptomRow, check: Check, dress: Draft
) -> None:
    edges = {check.shapes.replace(PIECE, piece) for piece in ("front", "back")}
    assert edges <= set(dress.edge_names)
    assert set(check.reads) <= set(measures(dress))
    assert not check.target or check.target in measures(dress)
    assert not check.on_edge or check.on_edge in dress.edge_names


def test_what_is_not_proposed_names_the_kind_that_does_it_or_is_done_by_hand() -> None:
    checks = [check for row in ROWS.values() for check in row.checks]
    named = {check.remedy: check.done_by for check in checks if check.done_by}
    assert {*named.values()} <= {*kinds()}
    assert not any(check.kind for check in checks if check.done_by)
    (gape,) = (kind for remedy, kind in named.items() if "gape dart" in remedy)
    assert gape == "contour-edge"


@every_check
def test_its_kind_of_change_is_there_and_takes_its_values(
    row: SymptomRow, check: Check, dress: Draft
) -> None:
    if check.kind is None:
        assert not check.values
        return
    cls = kinds()[check.kind]
    values: dict[str, Any] = dict(check.values)
    values |= {name: "front" for name, value in values.items() if value == PIECE}
    if check.typical and check.factor:
        values["to" if check.target else "by"] = f"{check.factor * check.typical[0]}mm"
    made = read_change(cls, values, Unit.MILLIMETRE)
    assert set(values) <= {each.name for each in parameters(cls)}
    dart = check.values.get("dart")
    assert dart is None or dart in dress.dart_names
    assert made.kind == check.kind


@every_check
def test_it_works_the_way_it_says(row: SymptomRow, check: Check, dress: Draft) -> None:
    """A symptom of too little is met by more, and the other way round."""
    too_little = {"shoulder-too-short", "hip-tight", "upper-arm-tight", "neck-tight", "cap-pulls"}
    too_much = {"shoulder-too-long", "cap-folds", "sleeveless-armhole-loose"}
    reading = {
        "shorten-shoulder": "front.shoulder",
        "add-ease": "front.bust-width",
        "widen-sleeve": "sleeve.biceps-width",
        "lower-neck": "front.neck",
        "widen-neck": "front.neck",
        "raise-cap": "sleeve.cap-height",
        "lower-armhole": "front.underarm-depth",
    }
    if row.symptom not in too_little | too_much:
        return
    if check.kind is None or check.typical is None:
        return
    values: dict[str, Any] = dict(check.values)
    values |= {name: "front" for name, value in values.items() if value == PIECE}
    made = change(check.kind, **values, by=f"{check.factor * check.typical[0]}mm")
    name = reading[check.kind]
    grew = measures(made.apply(dress))[name] - measures(dress)[name]
    assert grew > 0 if row.symptom in too_little else grew < 0


BARE: dict[str, Any] = {
    "look_at": "length",
    "area": "shoulder",
    "cause": "too long",
    "remedy": "shorten it",
    "shapes": "front.shoulder",
    "mark": "from memory",
}


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"mark": "published"}, "names no source"),
        ({"typical": [13, 6]}, "not in order"),
        ({"typical": [6, 13], "largest": 10}, "beyond its largest"),
        ({"kind": "shorten-shoulder"}, "no typical one"),
        ({"sources": ["NOBODY"]}, "has no title"),
        ({"area": "ankle"}, "ankle"),
        ({"remark": "hm"}, "remark"),
        ({"typical": "a little"}, "typical"),
    ],
)
def test_a_row_that_says_nonsense_is_refused(wrong: dict[str, Any], says: str) -> None:
    row = {"symptom": "long", "words": "long", "places": [], "checks": [{**BARE, **wrong}]}
    with pytest.raises(ValueError, match=says):
        read_rows({"sources": {}, "rows": [row]})


def test_checks_out_of_order_and_symptoms_told_twice_are_refused() -> None:
    early = {"symptom": "long", "words": "long", "places": [], "checks": [BARE]}
    late = {**early, "checks": [{**BARE, "area": "hem"}, BARE]}
    with pytest.raises(ValueError, match="general order"):
        read_rows({"sources": {}, "rows": [late]})
    with pytest.raises(ValueError, match="two rows"):
        read_rows({"sources": {}, "rows": [early, early]})
