import datetime
from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from trueup.lineage.errors import BadRecord
from trueup.lineage.files.garment_files import is_garment_file, read_garment
from trueup.lineage.files.garment_records import FitNote, GarmentRecord, NotedSide, Status
from trueup.lineage.files.garment_writing import garment_text
from trueup.lineage.files.records import replace

PATH = "garments/blouse-1.toml"
DAY = datetime.date(2025, 3, 1)
NOTE = FitNote("note-1", "armhole-gapes", "front.armhole", DAY)
BARE = GarmentRecord("blouse-1", "blouse", "0123456789" * 4, DAY)
FULL = replace(
    BARE,
    fabric="linen",
    wearer="Ada",
    status=Status.WORN,
    allowances={"front.side": 15.0, "front.hem": 40.0},
    stitched_down=("front.neck", "back.neck"),
    notes=(
        replace(NOTE, amount_mm=10.5, side=NotedSide.LEFT, photo="photos/blouse-1-note-1.jpg"),
        replace(NOTE, id="note-2", words="gapes", wearer="Bo", resolved_by=("a1", "b2")),
    ),
)
TEXT = garment_text(FULL).decode()


def refused(content: bytes, path: str = PATH) -> BadRecord:
    with pytest.raises(BadRecord) as caught:
        read_garment(path, content)
    sentence = str(caught.value)
    assert sentence.startswith(path)
    assert "\n" not in sentence
    return caught.value


@pytest.mark.parametrize("garment", [BARE, FULL])
def test_a_garment_is_read_as_it_was_written(garment: GarmentRecord):
    assert read_garment(PATH, garment_text(garment)) == garment


@given(
    st.sampled_from([BARE, FULL]),
    st.sampled_from(
        [
            BARE,
            FULL,
            replace(BARE, notes=FULL.notes[:1]),
            replace(FULL, notes=FULL.notes[1:], status=Status.RETIRED, wearer=""),
            replace(FULL, notes=(*FULL.notes, replace(NOTE, id="note-3")), stitched_down=()),
            replace(BARE, fabric="wool", allowances={"back.side": 12.5}),
        ]
    ),
)
def test_a_garment_written_over_another_is_read_as_the_new_one(
    old: GarmentRecord, new: GarmentRecord
):
    text = garment_text(new, garment_text(old))
    assert read_garment(PATH, text) == new


def test_comments_and_unknown_fields_are_kept():
    text = TEXT.replace('fabric = "linen"', 'fabric = "linen" # from the fair\nbolt = 7')
    written = garment_text(replace(FULL, status=Status.ALTERED), text.encode()).decode()
    assert "# from the fair" in written
    assert "bolt = 7" in written
    assert 'status = "altered"' in written


def test_only_files_in_the_folder_of_garments_are_garments():
    assert is_garment_file(PATH)
    assert not is_garment_file("garments/blouse-1.svg")
    assert not is_garment_file("garments/deep/blouse-1.toml")
    assert not is_garment_file("patterns/blouse-1.toml")


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('name = "blouse-1"', 'name = "tunic"', "name"),
        ("0123456789" * 4, "HEAD", "cut_from"),
        ('status = "worn"', 'status = "torn"', "status"),
        ("cut_on = 2025-03-01", 'cut_on = "soon"', "cut_on"),
        ('"front.side" = 15.0', '"front.side" = -1', "front.side"),
        ('"front.side" = 15.0', '"front.side" = nan', "allowances"),
        ('"front.side" = 15.0', '"front.side" = "wide"', ""),
        ("amount_mm = 10.5", "amount_mm = -10.5", "amount_mm"),
        ("amount_mm = 10.5", "amount_mm = 0", "amount_mm"),
        ("amount_mm = 10.5", "amount_mm = inf", "notes"),
        ("photos/blouse-1-note-1.jpg", "../../secret.jpg", "photo"),
        ("photos/blouse-1-note-1.jpg", "photos/../secret.jpg", "photo"),
        ("photos/blouse-1-note-1.jpg", "/etc/passwd", "photo"),
        ("photos/blouse-1-note-1.jpg", "photos/x.svg", "photo"),
        ('id = "note-2"', 'id = "note-1"', "id"),
        ('id = "note-2"', 'id = "a b"', "id"),
        ('side = "left"', 'side = "front"', "side"),
        ("stitched_down = [", "stitched_down = [1, ", ""),
    ],
)
def test_what_makes_no_sense_is_named(old: str, new: str, field: str):
    assert old in TEXT
    error = refused(TEXT.replace(old, new).encode())
    assert field in (error.field, error.table, "")


@given(st.binary(max_size=400))
@settings(max_examples=60)
def test_arbitrary_bytes_are_refused_in_one_sentence(content: bytes):
    refused(content)


def refusal(content: bytes) -> str:
    """Return in what words a file is refused; only a BadRecord may say so."""
    try:
        read_garment(PATH, content)
    except BadRecord as error:
        return str(error)
    return "nothing is refused"


@given(st.integers(0, len(TEXT) - 1))
@settings(max_examples=60)
def test_a_file_cut_short_is_refused_or_whole_up_to_there(cut: int):
    said = refusal(TEXT[:cut].encode())
    assert said.startswith((PATH, "nothing is refused"))
    if said == "nothing is refused":
        assert read_garment(PATH, TEXT[:cut].encode()).name == "blouse-1"


VALUES = st.recursive(
    st.integers() | st.floats() | st.booleans() | st.text(max_size=6) | st.dates() | st.datetimes(),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from([*FitNote.__struct_fields__, "x"]), inner, max_size=4)
    ),
    max_leaves=8,
)


@given(
    st.dictionaries(st.sampled_from([*GarmentRecord.__struct_fields__, "format", "more"]), VALUES)
)
@settings(max_examples=150)
def test_arbitrary_tables_are_read_or_refused_in_one_sentence(tables: dict[str, Any]):
    whole = {**tomlkit.parse(TEXT).unwrap(), **tables}
    try:
        content = tomlkit.dumps(whole).encode()
    except (ValueError, UnicodeEncodeError):
        return
    said = refusal(content)
    assert said.startswith((PATH, "nothing is refused"))
    assert "\n" not in said
