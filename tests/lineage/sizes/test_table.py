"""Size tables as makers have them, and what is none, each told in one sentence."""

import pytest

from trueup.lineage.sizes.errors import BadTable
from trueup.lineage.sizes.table import Size, read_table

HEAD = "size,bust,waist\n"


def refused(text: str | bytes, place: str = "sizes.csv") -> str:
    content = text.encode() if isinstance(text, str) else text
    with pytest.raises(BadTable) as caught:
        read_table(place, content)
    said = str(caught.value)
    assert len(said.splitlines()) == 1
    assert len(said) < 300
    return said


@pytest.mark.parametrize(
    "text",
    [
        "size,bust,waist\n12,88cm,72cm\n14,92cm,76cm\n",
        "# from a book\n\nSize;Bust;Waist\n12;88cm;72cm\n14;92cm;76cm\n",
        "size\tbust\twaist\n12\t88cm\t72cm\n14\t92cm\t76cm",
        "\ufeffsize,bust,waist\r\n12,88cm,72cm\r\n14,92cm,76cm\r\n",
        'size,"bust"," waist "\n"12","88cm"," 72cm "\n14,92cm,76cm\n',
    ],
)
def test_csv_is_read_as_other_programs_write_it(text: str) -> None:
    assert read_table("sizes.csv", text.encode()) == (
        Size("12", {"bust": "88cm", "waist": "72cm"}),
        Size("14", {"bust": "92cm", "waist": "76cm"}),
    )


def test_toml_has_a_table_a_size() -> None:
    text = b'[12]\nbust = "88cm"\nback-length = 41\n[XL]\nbust = "104cm"\nback-length = 41.5\n'
    assert read_table("sizes.toml", text) == (
        Size("12", {"bust": "88cm", "back-length": "41"}),
        Size("xl", {"bust": "104cm", "back-length": "41.5"}),
    )


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no size"),
        ("size,bust\n", "no size"),
        ("size\n12\n", "one column"),
        (HEAD + "12,88cm\n", "fills 2 of its 3 columns"),
        (HEAD + "12,88cm,72cm,1\n", "fills 4 of its 3 columns"),
        (HEAD + "12,88cm,\n", "size 12 has no waist"),
        (HEAD + "12,88cm,72cm\n12,90cm,72cm\n", '"12" stands twice'),
        (HEAD + "S,88cm,72cm\ns ,90cm,72cm\n", '"s" stands twice'),
        ("size,bust,bust\n12,1,1\n", '"bust" stands twice'),
        (HEAD + ",88cm,72cm\n", '"" is no name of a size'),
        (HEAD + "../x,88cm,72cm\n", "is no name of a size"),
        (HEAD + "12\x00,88cm,72cm\n", "is no name of a size"),
        (HEAD + "1" * 500 + ",88cm,72cm\n", "is no name of a size"),
        (HEAD + "".join(f"{n},88cm,72cm\n" for n in range(100_000)), "a run has 24 at most"),
    ],
)
def test_what_is_no_table_is_told_by_its_row(text: str, says: str) -> None:
    assert says in refused(text)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"\xff\xfe\x00s", "not UTF-8"),
        (b"[12]\nbust = true\n", "neither a length nor a number"),
        (b"bust = 12\n", "no table of measurements"),
        (b"[12\n", "not TOML"),
        (b"".join(b"[a%d]\nbust=1\n" % n for n in range(5000)), "24 at most"),
    ],
)
def test_what_is_no_toml_table_is_told(content: bytes, says: str) -> None:
    place = "sizes.csv" if content.startswith(b"\xff") else "sizes.toml"
    assert says in refused(content, place)
