"""TOML from outside is refused before it costs time."""

import pytest

from tests import bounded
from trueup.lineage.files.tables.toml_text import NoTables, tables_in
from trueup.lineage.limits import LONGEST_KEY, MOST_LINES

LARGEST = 1_000_000


def reason(content: bytes) -> str:
    with pytest.raises(NoTables) as caught:
        tables_in(content, LARGEST)
    return str(caught.value)


def test_more_lines_than_any_chain_has_are_refused():
    assert "30,000 lines" in reason(b"\n" * (MOST_LINES + 1))
    assert tables_in(b"\n" * MOST_LINES, LARGEST) == {}


@pytest.mark.parametrize("word", [b"a", b'"a b"', b"'a.b'"])
@pytest.mark.parametrize("joined", [b".", b" . "])
def test_a_key_of_very_many_words_is_refused(word: bytes, joined: bytes):
    assert "nested too deeply" in reason(joined.join([word] * (LONGEST_KEY + 1)) + b" = 1")
    assert tables_in(joined.join([word] * LONGEST_KEY) + b" = 1", LARGEST)


def test_a_sentence_is_no_key():
    assert tables_in(b'x = "such a. long. sentence. ' + b"and. so. on. " * 99 + b'"', LARGEST)


def test_whatever_is_written_is_read_or_refused():
    told = bounded.python(
        """
        from trueup.lineage.files.tables.toml_text import NoTables, tables_in
        keys = "\\n".join(".".join(["a"] * 900) + f".k{n} = 1" for n in range(550))
        for text in (keys, "a" * 999_999, '"' * 999_999, "a." * 499_999, "[[" * 499_999,
                     "x = 0x" + "f" * 999_990, "x = " + "9" * 999_990 + ".5"):
            try:
                tables_in(text.encode(), 1_000_000)
            except NoTables:
                pass
        print("done")
        """
    )
    assert told == "done\n"
