import pickle
from pathlib import Path

import pytest

from trueup.lineage import errors

ERRORS = [
    errors.NotAWardrobe(Path("x"), "it has no .git folder"),
    errors.FolderNotEmpty(Path("x")),
    errors.UnknownRevision("nowhere"),
    errors.NoSuchFile("blocks/a.toml"),
    errors.UnsafePath("../a", "it leads out"),
    errors.HandEdited(("a", "b")),
    errors.MovedOn("1" * 40, "2" * 40),
    errors.Busy(Path("x"), "another trueup"),
    errors.Detached(Path("x"), "1" * 40),
    errors.NothingToUndo("this is the first step"),
    errors.NotDrafted("blouse", ("village",)),
    errors.GitMissing(),
    errors.CannotWrite("x", "No space left on device"),
    errors.WorkingFilesBehind("x", "Permission denied", "1" * 40),
    errors.Damaged("x", "it is cut off"),
    errors.MayNotRead("blocks/a.toml", "Permission denied"),
    errors.MayNotRead("blocks/a.toml", "Permission denied", closed=".git/objects/ab/cd"),
]


@pytest.mark.parametrize("error", ERRORS, ids=lambda error: type(error).__name__)
def test_an_error_is_one_sentence_and_keeps_its_facts(error):
    sentence = str(error)
    assert sentence.endswith(".")
    assert "\n" not in sentence
    again = pickle.loads(pickle.dumps(error))
    assert str(again) == sentence
    assert vars(again) == vars(error)


def test_what_a_terminal_could_act_on_is_made_visible():
    assert errors.printable("a\x1b[31m\n\u202e\udcffé") == "a\\x1b[31m\\n\\u202e\\udcffé"
    assert "\x1b" not in str(errors.NoSuchFile("\x1b[31m"))


def test_a_sentence_stays_readable_whatever_it_is_about():
    told = str(errors.NoSuchFile("a" * 1_000_000 + "z"))
    assert len(told) < 600
    assert "z" in told
    many = str(errors.HandEdited(tuple(f"patterns/p{n}.toml" for n in range(10_000))))
    assert "p0.toml" in many
    assert "9960 more" in many
    assert len(many) < 2_000
