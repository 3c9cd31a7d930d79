import pytest
from hypothesis import given
from hypothesis import strategies as st

from trueup.lineage.errors import UnsafePath
from trueup.lineage.store.files.paths import is_owned, require_contained, require_writable_name

LEADING_OUT = [
    "",
    "/etc/passwd",
    "../out",
    "blocks/../../out",
    "blocks/./x",
    "blocks//x",
    "blocks/",
    "blocks\\x",
    "C:\\x",
    ".git/config",
    "blocks/.GIT/config",
    "blocks/.git /x",
    "blocks/git~1/x",
    "blocks/.g\u200cit/x",
    "blocks/.git::$INDEX_ALLOCATION/x",
    "blocks/a\nb",
    "blocks/a\0b",
    "blocks/a\x1b[31m",
    "blocks/\udcff",
]


@pytest.mark.parametrize("path", LEADING_OUT)
def test_a_path_that_leads_out_is_refused_for_reading_and_writing(path):
    with pytest.raises(UnsafePath, match="give the file another name"):
        require_contained(path)
    with pytest.raises(UnsafePath):
        require_writable_name(path)


@pytest.mark.parametrize(
    "path",
    [
        "blocks/.hidden",
        "blocks/nul.toml",
        "blocks/COM1",
        "blocks/a.",
        "blocks/a /x",
        "blocks/a:b",
        "blocks/a?",
        "blocks/" + "\u00e4" * 128,
        "/".join(["blocks", *["x" * 200] * 6]),
        "blocks/a\u202eb",
    ],
)
def test_a_name_some_system_refuses_is_not_written_but_may_be_read(path):
    require_contained(path)
    with pytest.raises(UnsafePath):
        require_writable_name(path)


@pytest.mark.parametrize(
    "path",
    ["wardrobe.toml", "blocks/a.toml", "photos/\u00e4rmel 1.jpg", "patterns/it's.toml"],
)
def test_an_ordinary_name_is_taken(path):
    require_writable_name(path)


@given(st.text())
def test_a_name_that_may_be_written_may_be_read(path):
    try:
        require_writable_name(path)
    except UnsafePath as refused:
        sentence = str(refused)
    else:
        require_contained(path)
        sentence = ""
    assert sentence.isprintable()


def test_the_wardrobe_owns_its_settings_and_four_folders():
    assert is_owned("wardrobe.toml")
    assert is_owned("photos/june/back.jpg")
    for other in ("blocks", "README.md", "sub/wardrobe.toml", "blocks/.x", "blocks/a.toml~"):
        assert not is_owned(other)
