from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.lineage.files.refusing import BLOCK, FULL, PATH, read, refusal, refused
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.reading import is_name, read_node, read_settings, read_toml, refuse_ids
from trueup.lineage.files.records import ConflictKind, ConflictState, Role
from trueup.lineage.limits import (
    DEEPEST_TABLE,
    LARGEST_RECORD,
    LONGEST_TEXT,
    MOST_PARENTS,
    MOST_PIECES,
    MOST_STEPS,
)


def test_a_pattern_is_read_with_all_it_says():
    node = read(FULL)
    assert not node.is_block
    assert node.path == PATH
    assert [parent.name for parent in node.parents] == ["village", "puff"]
    assert node.parents[0].pieces == ("front", "back")
    (step,) = node.steps
    assert step.role is Role.CORRECTION
    assert step.values == {"piece": "front", "by": "20mm"}
    assert (step.fitting, step.settles, step.date.isoformat()) == (
        "fitting-a1",
        "seam-1",
        "2025-03-01",
    )
    (conflict,) = node.conflicts
    assert conflict.kind is ConflictKind.SEAM
    assert conflict.state is ConflictState.ACCEPTED
    assert conflict.allowed_mm == (25.0, 45.0)
    assert conflict.remedies[0].values == {"to": "35mm"}
    assert conflict.decisions[0].why == "gathers"


def test_a_block_takes_measurements_as_lengths_or_bare_numbers():
    node = read(BLOCK, "blocks/village.toml")
    assert node.is_block
    assert node.draft.body == {"bust": "88cm", "waist": "680"}


def test_what_a_kind_does_not_know_is_kept_for_it_to_judge():
    node = read(FULL.replace('by = "20mm"', 'by = "20mm"\nfrom_the_future = [1, 2]'))
    assert node.steps[0].values["from_the_future"] == [1, 2]


# --- the whole file ---------------------------------------------------------------------------


@given(st.binary(max_size=400))
@settings(max_examples=100)
def test_arbitrary_bytes_are_refused_in_one_sentence(content: bytes):
    refused(content)


SCALARS = (
    st.none().map(lambda _: "x")
    | st.integers()
    | st.floats()
    | st.booleans()
    | st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=8)
    | st.dates()
    | st.datetimes()
    | st.times()
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["id", "name", "kind", "piece", "x"]), inner, max_size=3)
    ),
    max_leaves=6,
)


@given(
    st.dictionaries(
        st.sampled_from(["format", "name", "parents", "draft", "steps", "conflicts", "is_block"]),
        VALUES,
    )
)
@settings(max_examples=150)
def test_arbitrary_toml_is_read_or_refused_in_one_sentence(tables: dict[str, Any]):
    tables = {"format": 1, "name": "blouse", **tables}
    content = tomlkit.dumps(tables).encode()
    assert refusal(lambda: read_node(PATH, content)).startswith((PATH, "nothing"))
    settings_path = "wardrobe.toml"
    assert refusal(lambda: read_settings(settings_path, content)).startswith(
        (settings_path, "nothing")
    )


@given(st.integers(0, len(FULL) - 1))
@settings(max_examples=120)
def test_a_file_cut_short_is_refused_or_whole_up_to_there(cut: int):
    said = refusal(lambda: read(FULL[:cut]))
    if said == "nothing is refused":
        node = read(FULL[:cut])
        assert node.name == "blouse"
        assert node.parents
    else:
        assert said.startswith(PATH)


def test_a_file_that_is_not_utf8_says_so():
    assert "UTF-8" in refused(FULL.encode("utf-16")).reason


def test_a_file_of_no_or_another_format_says_which_is_read():
    assert "does not say its format" in refused(FULL.replace("format = 1\n", "")).reason
    for other in ("4", "0", '"1"', "true", "1.5", "[1]"):
        error = refused(FULL.replace("format = 1", f"format = {other}"))
        assert error.field == "format"
        assert "reads format 1" in error.reason


def test_a_file_too_large_is_refused_before_it_is_parsed():
    assert "larger than 1 MB" in refused(b"x" * (LARGEST_RECORD + 1)).reason


@pytest.mark.parametrize("depth", [DEEPEST_TABLE, 100, 900, 100_000])
def test_a_file_nested_too_deeply_is_refused(depth: int):
    assert "nested too deeply" in refused(f"{FULL}\n[more]\nx = {'[' * depth}{']' * depth}").reason


@pytest.mark.parametrize("number", ["nan", "inf", "-inf", "1e300", "9" * 400, "0x" + "f" * 9999])
def test_numbers_no_calculation_can_use_are_refused(number: str):
    error = refused(FULL.replace("excess_mm = 13.75", f"excess_mm = {number}"))
    assert "beyond" in error.reason


def test_a_number_of_thousands_of_digits_is_refused():
    assert (
        "digits" in refused(FULL.replace("excess_mm = 13.75", f"excess_mm = {'9' * 9999}")).reason
    )


# --- what contradicts itself ------------------------------------------------------------------


def test_the_name_is_that_of_the_file():
    error = refused(FULL.replace('"blouse"', '"tunic"', 1))
    assert error.field == "name"
    assert "tunic" in error.reason
    refused(FULL.replace('"blouse"', '"Blouse"'), "patterns/Blouse.toml")


def test_a_file_elsewhere_is_no_node():
    assert "neither" in refused(FULL, "garments/blouse.toml").reason
    assert "neither" in refused(FULL, "patterns/deep/blouse.toml").reason


@pytest.mark.parametrize(
    ("table", "field", "old", "new"),
    [
        (
            "steps",
            "id",
            "[[conflicts]]",
            '[[steps]]\nid = "a1"\nrole = "style"\nkind = "x"\n[[conflicts]]',
        ),
        ("parents", "name", 'name = "puff"', 'name = "village"'),
    ],
)
def test_the_same_name_twice_is_refused(table: str, field: str, old: str, new: str):
    error = refused(FULL.replace(old, new, 1))
    assert (error.table, error.field) == (table, field)
    assert "twice" in error.reason


def test_a_conflict_twice_is_refused():
    conflict = FULL[FULL.index("[[conflicts]]") :]
    assert refused(FULL + conflict).table == "conflicts"


def test_a_node_is_drafted_or_derived_and_only_a_block_is_drafted():
    assert "either" in refused('format = 1\nname = "blouse"').reason
    assert "either" in refused(FULL + '[draft]\nsystem = "x"\n').reason
    assert "only a block" in refused(BLOCK.replace("village", "blouse")).reason


def test_what_a_parent_gives_is_named_or_left_out():
    error = refused(FULL.replace('["sleeve"]', "[]"))
    assert (error.table, error.field) == ("parents 2", "pieces")


@pytest.mark.parametrize("hold", ["HEAD", "main", "HEAD~3", "0123", "../x", ""])
def test_a_version_to_stay_on_is_one_that_can_never_move(hold: str):
    error = refused(FULL.replace("0123456789" * 4, hold, 1))
    assert (error.table, error.field) == ("parents 1", "hold")


@pytest.mark.parametrize("name", ["two words", "", "a\\nb", "-a", "x" * 90])
def test_an_id_is_a_plain_word(name: str):
    assert refused(FULL.replace('"a1"', f'"{name}"', 1)).table == "steps 1"
    assert refused(FULL.replace('id = "seam-1"', f'id = "{name}"', 1)).table == "conflicts 1"


def test_a_conflict_stands_in_the_file_of_the_node_it_arose_at():
    error = refused(FULL.replace('arose_at = "blouse"', 'arose_at = "tunic"'))
    assert (error.table, error.field) == ("conflicts 1", "arose_at")


def test_a_measurement_that_is_none_is_named():
    error = refused(BLOCK.replace("680", "true"), "blocks/village.toml")
    assert (error.table, error.field) == ("draft", "waist")


def test_settings_name_a_unit_there_is():
    good = b'format = 1\nname = "x"\nunit = "in"\n'
    assert read_settings("wardrobe.toml", good).unit == "in"
    with pytest.raises(BadRecord) as caught:
        read_settings("wardrobe.toml", good.replace(b'"in"', b'"yd"'))
    assert caught.value.field == "unit"


@given(st.text(max_size=70))
def test_a_name_is_small_letters_digits_and_hyphens(text: str):
    allowed = set("abcdefghijklmnopqrstuvwxyz0123456789-")
    if is_name(text):
        assert 0 < len(text) <= 60
        assert set(text) <= allowed
        assert text[0].isalpha()
        assert not text.endswith("-")
    assert is_name("village-2")
    assert not is_name("Village")
    assert not is_name("a/b")


def test_the_tables_are_those_of_the_file():
    assert read_toml("x.toml", b"format = 1\n[a]\nb = 2\n") == {"format": 1, "a": {"b": 2}}


# --- more than any maker makes ------------------------------------------------------------------


def many(field: str, count: int, one: str) -> str:
    return f'format = 1\nname = "blouse"\n{field} = [{", ".join([one] * count)}]\n'


@pytest.mark.parametrize(
    ("field", "most", "one"),
    [
        ("steps", MOST_STEPS, "{id = 'a', role = 'style', kind = 'k'}"),
        ("parents", MOST_PARENTS, "{name = 'village'}"),
    ],
)
def test_lists_longer_than_any_makers_are_refused(field: str, most: int, one: str):
    assert f"more than {most:,} {field}" in refused(many(field, most + 1, one)).reason
    assert "more than" not in refused(many(field, most, one)).reason  # there is one thing twice


def test_more_pieces_than_any_garment_has_are_refused():
    pieces = ", ".join(f'"p{n}"' for n in range(MOST_PIECES + 1))
    error = refused(FULL.replace('["front", "back"]', f"[{pieces}]"))
    assert (error.table, error.reason) == ("parents 1", "it holds more than 200 pieces")


def test_a_text_longer_than_anybody_writes_is_refused():
    error = refused(FULL.replace('"binds"', f'"{"w" * (LONGEST_TEXT + 1)}"'))
    assert (error.field, "20,000 characters" in error.reason) == ("steps", True)


class Counted(str):
    """A text that counts how often it is compared with another."""

    __slots__ = ()
    compared = 0

    def __eq__(self, other: object) -> bool:
        Counted.compared += 1
        return str.__eq__(self, other)

    __hash__ = str.__hash__


@pytest.mark.parametrize("count", [1_000, 4_000])
def test_ids_are_compared_no_oftener_than_there_are_ids(count: int):
    Counted.compared = 0
    refuse_ids(PATH, "conflicts", [Counted(f"c{n}") for n in range(count)])
    assert Counted.compared < 4 * count
