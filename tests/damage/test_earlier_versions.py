"""What an earlier version says and git no longer gives: no answer leaves it out in silence."""

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.cli.book.opened import opened, text
from tests.damage.judging import case_of
from tests.unprivileged import permissions_hold
from tests.warm import Answer, Warm

CUT_FROM = "HEAD~3"
GONE = {
    "the version cloth was cut from": CUT_FROM,
    "its list of files": f"{CUT_FROM}^{{tree}}",
    "a folder of it": f"{CUT_FROM}:blocks",
    "a block as cloth was cut": f"{CUT_FROM}:blocks/easy.toml",
    "the block above it as cloth was cut": f"{CUT_FROM}:blocks/village.toml",
    "a pattern before it was styled": "HEAD~6:patterns/blouse.toml",
    "a block as it was drafted": "HEAD~10:blocks/village.toml",
}
READING = (
    (),
    ("check", "--all", "--json"),
    ("measure", "blouse", "--over-time"),
    ("measure", "blouse", "--over-time", "--json"),
    ("compare", "blouse"),
    ("compare", "blouse", "--from", "HEAD~5"),
    ("history", "--effects"),
    ("history", "linen", "--json"),
    ("origin", "blouse", "front.armhole"),
    ("explain", "blouse"),
    ("garment", "linen"),
    ("garment", "linen", "--json"),
    ("garments",),
    ("alter", "linen"),
    ("diagnose", "linen"),
    ("diagnose", "linen", "--json"),
    ("shared", "linen"),
    ("shared", "--all", "--single"),
    ("body", "Marta"),
    ("report", "village"),
    ("report", "--json"),
)


@pytest.fixture(scope="module")
def clean(
    trueup: Warm, whole: Path, tmp_path_factory: pytest.TempPathFactory
) -> dict[tuple[str, ...], Answer]:
    """What the verbs answer where nothing is gone."""
    folder = case_of(whole, tmp_path_factory.mktemp("clean")).folder
    return {words: _asked(trueup, folder, words) for words in READING}


def _asked(trueup: Warm, folder: Path, words: tuple[str, ...]) -> Answer:
    answer = trueup("-C", str(folder), *words)
    out = answer.out.replace(str(folder.parent), "")
    return Answer(answer.words, answer.code, out, answer.err)


def _stored(folder: Path, named: str) -> Path:
    asked = ["git", "-C", str(folder), "rev-parse", named]
    found = subprocess.run(asked, capture_output=True, text=True, check=True).stdout.strip()
    return folder / ".git" / "objects" / found[:2] / found[2:]


@pytest.mark.parametrize("named", GONE.values(), ids=GONE)
def test_every_answer_is_as_before_or_says_what_is_missing(
    trueup: Warm, whole: Path, clean: dict[tuple[str, ...], Answer], tmp_path: Path, named: str
) -> None:
    folder = case_of(whole, tmp_path).folder
    file = _stored(folder, named)
    file.unlink()
    told = set()
    for words in READING:
        answer = _asked(trueup, folder, words)
        if (answer.code, answer.out) != (clean[words].code, clean[words].out):
            assert answer.code == 3, answer
            assert "`trueup restore`" in answer.err, answer
            told.add(words)
    assert ("measure", "blouse", "--over-time") in told


@pytest.mark.parametrize("named", ["HEAD:blocks/traced.svg", "HEAD:blocks/easy.toml"])
def test_what_is_gone_since_it_was_read_is_told_in_one_sentence(
    trueup: Warm, whole: Path, clean: dict[tuple[str, ...], Answer], tmp_path: Path, named: str
) -> None:
    folder = case_of(whole, tmp_path).folder
    for words in READING:
        _asked(trueup, folder, words)
    _stored(folder, named).unlink()
    for words in READING:
        answer = _asked(trueup, folder, words)
        if answer.out != clean[words].out:
            assert "`trueup restore`" in answer.err, answer
        if answer.out == "":
            assert answer.err.count("\n") == 1, answer


def test_what_is_missing_is_named_with_its_version(
    trueup: Warm, whole: Path, tmp_path: Path
) -> None:
    folder = case_of(whole, tmp_path).folder
    _stored(folder, GONE["a pattern before it was styled"]).unlink()
    answer = _asked(trueup, folder, ("measure", "blouse", "--over-time", "--json"))
    (missing,) = answer.document["unreadable"]
    assert missing["path"] == "patterns/blouse.toml"
    made = _git(folder, "rev-parse", "HEAD~6").strip()
    assert missing["version"] == made
    assert f"git does not give patterns/blouse.toml as of {made[:10]}" in answer.err


def test_an_audit_says_so_itself(trueup: Warm, whole: Path, tmp_path: Path) -> None:
    folder = case_of(whole, tmp_path).folder
    _stored(folder, GONE["a block as it was drafted"]).unlink()
    out = _asked(trueup, folder, ("report", "village")).out
    _, _, missing = out.partition("## What earlier versions do not say any more")
    assert "blocks/village.toml as of" in missing


def test_a_version_is_compared_with_the_last_that_can_be_read(
    trueup: Warm, whole: Path, tmp_path: Path
) -> None:
    """One that cannot be read is not taken for the beginning of the pattern."""
    folder = case_of(whole, tmp_path).folder
    _stored(folder, "HEAD~5:patterns/blouse.toml").unlink()
    answer = _asked(trueup, folder, ("compare", "blouse"))
    assert "from its beginning" not in answer.err
    assert "`trueup restore`" in answer.err


def test_a_step_that_cannot_be_read_is_not_taken_for_one_that_moved_nothing(
    trueup: Warm, whole: Path, tmp_path: Path
) -> None:
    folder = case_of(whole, tmp_path).folder
    words = ("sheet", "vest", str(tmp_path / "vest.pdf"), "--only-moved")
    _stored(folder, "HEAD~1:blocks/village.toml").unlink()
    answer = _asked(trueup, folder, words)
    assert answer.code == 3
    assert "blocks/village.toml as of" in answer.err
    assert "`trueup restore`" in answer.err


def test_a_note_is_resolved_and_what_was_not_looked_at_is_told(
    trueup: Warm, whole: Path, tmp_path: Path
) -> None:
    folder = case_of(whole, tmp_path).folder
    found = _asked(trueup, folder, ("garment", "linen", "--json")).document
    (note,), (made,) = found["garment"]["notes"], found["since"]["steps"]
    shutil.rmtree(folder)
    folder = case_of(whole, tmp_path / "again").folder
    _stored(folder, CUT_FROM).unlink()
    answer = _asked(trueup, folder, ("resolve", note["id"], "--by", made["step"]["id"]))
    assert answer.code == 0
    assert f"git does not give any of {found['garment']['cut_from'][:10]}" in answer.err


def test_a_book_says_on_its_first_page_what_it_goes_without(
    trueup: Warm, whole: Path, tmp_path: Path
) -> None:
    folder = case_of(whole, tmp_path).folder
    _stored(folder, GONE["a block as cloth was cut"]).unlink()
    answer = _asked(trueup, folder, ("book", str(tmp_path / "book.html")))
    assert answer.code == 3
    assert "git does not give blocks/easy.toml as of" in answer.err
    assert "git does not give blocks/easy.toml as of" in text(
        opened(tmp_path / "book.html").page("start")
    )


def test_a_version_that_may_not_be_read_is_not_taken_for_one_there_never_was(
    trueup: Warm, whole: Path, tmp_path: Path
) -> None:
    if not permissions_hold():
        pytest.skip("nothing holds root back here")
    folder = case_of(whole, tmp_path).folder
    file = _stored(folder, CUT_FROM)
    file.chmod(0)
    answer = _asked(trueup, folder, ("alter", "linen"))
    assert answer.code == 2
    assert f"Cannot read {file}" in answer.err
    told = _asked(trueup, folder, ("garment", "linen")).err
    assert f"allow reading {file}" in told
    assert "restore" not in told


def test_what_a_shallow_copy_leaves_out_is_no_damage(
    trueup: Warm, whole: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "shallow"
    words = ["git", "clone", "-q", "--depth", "1", whole.as_uri(), str(folder)]
    subprocess.run(words, check=True, capture_output=True)
    answer = _asked(trueup, folder, ("garment", "linen"))
    assert "fetch the whole history" in answer.out + answer.err
    assert "restore" not in answer.err
    assert "fetch the whole history" in _asked(trueup, folder, ("diagnose", "linen")).err
    assert _asked(trueup, folder, ("history",)).code == 0


def _git(folder: Path, *words: str) -> str:
    asked = ["git", "-C", str(folder), *words]
    return subprocess.run(asked, capture_output=True, text=True, check=True).stdout
