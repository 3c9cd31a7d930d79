"""One broken file hides no other: every verb answers for the rest, and says what is missing.

In the theatre's wardrobe the block `easy` derives from `village`, and `blouse` from `easy`; `own`,
`vest` and the traced `drawn` with its `coat` have nothing to do with them.
"""

import os
import re
import subprocess
import tempfile
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest

from tests.cli.book.opened import opened, text
from tests.cli.conftest import Answer, Trueup
from tests.sharing.copied import copied
from trueup.cli.main import main

FILE = "blocks/easy.toml"
LOST = {"easy", "blouse"}
STANDING = {"village", "own", "vest", "drawn", "coat"}
BLOCKS = {"village", "drawn"}
HELPS = "`trueup restore blocks/easy.toml`"
LITTLE = ("scoop-armhole", "--piece", "front", "--by", "2mm")

Damage = Callable[[Path], object]


def written(change: Callable[[str], str]) -> Damage:
    return lambda place: place.write_text(change(place.read_text()))


def content(new: bytes) -> Damage:
    return lambda place: place.write_bytes(new)


def instead(put: Callable[[Path], object]) -> Damage:
    return lambda place: (place.unlink(), put(place))


def twin(place: Path) -> None:
    other = place.parent.parent / "patterns" / place.name
    other.write_bytes(place.read_bytes())


KINDS: dict[str, tuple[Damage, str]] = {
    "emptied": (content(b""), "format"),
    "garbage": (content(b"\x00\x01[[["), "not TOML"),
    "half": (written(lambda held: held[: held.index("village") + 3]), "not TOML"),
    "no-text": (content(b'format = 1\nname = "\xff\xfe"\n'), "not UTF-8"),
    "huge": (content(b"#" * 1_000_001), "larger than 1 MB"),
    "other-format": (written(lambda held: held.replace("format = 1", "format = 7")), "format 7"),
    "no-parent": (written(lambda held: held.replace('"village"', '"hamlet"')), "hamlet"),
    "ring": (written(lambda held: held.replace('"village"', '"blouse"')), "easy"),
    "own-parent": (written(lambda held: held.replace('"village"', '"easy"')), "easy -> easy"),
    "twice": (twin, "also in"),
    "link": (instead(lambda place: place.symlink_to("/etc/hostname")), "link"),
}
ON_DISK: dict[str, tuple[Damage, str]] = {
    **KINDS,
    "folder": (instead(Path.mkdir), "not a plain file"),
    "pipe": (instead(os.mkfifo), "not a plain file"),
}
CASES = [*((kind, False) for kind in ON_DISK), *((kind, True) for kind in KINDS)]


def case_id(case: tuple[str, bool]) -> str:
    return f"{case[0]}-{'committed' if case[1] else 'by-hand'}"


ALONE = {
    "check": ("check", "own"),
    "measure": ("measure", "own"),
    "walk": ("walk", "own"),
    "compare": ("compare", "own", "village"),
    "origin": ("origin", "own"),
    "history": ("history", "own"),
    "edge": ("history", "own", "front.armhole"),
    "explain": ("explain", "own"),
    "conflicts": ("conflicts", "own"),
    "garment": ("garment", "own-1"),
    "alter": ("alter", "own-1"),
    "diagnose": ("diagnose", "coat", "armhole-gapes"),
    "cut-list": ("sheet", "own", "--cut-list"),
}
WHOLE = {
    "bare": (),
    "tree": ("tree",),
    "conflicts": ("conflicts",),
    "garments": ("garments",),
    "shared": ("shared", "--all", "--single"),
    "shared-place": ("shared", "own", "front.armhole"),
}


@pytest.fixture(scope="module")
def made(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("made") / "theatre"
    copied(built, folder)
    trueup = Trueup(folder)
    drawing = folder.parent / "drawn.svg"
    trueup.made("export", "village", str(drawing))
    trueup.made("trace", str(drawing), "drawn")
    trueup.made("derive", "coat", "--from", "drawn")
    for pattern in ("own", "blouse"):
        trueup.made("cut", pattern, "--date", "2025-03-01")
        trueup.made("note", f"{pattern}-1", "armhole-gapes", "--place", "front.armhole")
    trueup.made("correct", "own", "scoop-armhole", "--piece", "back", "--by", "2mm")
    trueup("shared", "--all")  # so that everything is evaluated once for all copies
    return folder


@pytest.fixture(scope="module")
def whole(made: Path) -> dict[str, tuple[int, str]]:
    """What the verbs say of one node while nothing is broken, on a terminal as wide as below."""
    with pytest.MonkeyPatch.context() as patched:
        for name in ("COLUMNS", "LINES"):
            patched.delenv(name, raising=False)
        return {verb: said(Trueup(made), words) for verb, words in ALONE.items()}


def said(trueup: Trueup, words: Sequence[str]) -> tuple[int, str]:
    answer = trueup(*words)
    assert answer.err == ""
    return answer.code, told_of(trueup, answer)


def told_of(trueup: Trueup, answer: Answer) -> str:
    """Return what was answered, without where, and at which version."""
    versions = re.compile(r"\(20[0-9-]+ [0-9a-f]{10}(, with edits by hand)?\)")
    return versions.sub("", answer.out.replace(str(trueup.folder), "FOLDER"))


@pytest.fixture
def theatre(made: Path, tmp_path: Path) -> Trueup:
    folder = tmp_path / "theatre"
    copied(made, folder)
    return Trueup(folder)


def committed(trueup: Trueup) -> None:
    """Record the files as they lie, as a stranger's git does it."""
    git = ("git", "-C", str(trueup.folder), "-c", "user.name=x", "-c", "user.email=x@example.org")
    subprocess.run([*git, "add", "-A"], check=True)
    subprocess.run([*git, "commit", "-qm", "From a stranger"], check=True)


def one_line(told: str) -> str:
    assert told.count("\n") == 1
    assert told.endswith(".\n")
    return told


def nodes(trueup: Trueup) -> set[str]:
    return {each["name"] for each in trueup("tree", "--json").document["nodes"]}


@pytest.mark.parametrize(("kind", "is_committed"), CASES, ids=[case_id(c) for c in CASES])
def test_the_others_are_told_as_they_were(
    theatre: Trueup, whole: dict[str, tuple[int, str]], kind: str, is_committed: bool
) -> None:
    damage, why = ON_DISK[kind]
    damage(theatre.folder / FILE)
    if is_committed:
        committed(theatre)
    for verb, words in ALONE.items():
        after = theatre(*words)
        assert (after.code, told_of(theatre, after)) == whole[verb], verb
        told = one_line(after.err)
        assert why in told
        assert "trueup restore" in told


@pytest.mark.parametrize(("kind", "is_committed"), CASES, ids=[case_id(c) for c in CASES])
def test_the_whole_is_told_without_what_is_broken(
    theatre: Trueup, kind: str, is_committed: bool
) -> None:
    damage, why = ON_DISK[kind]
    damage(theatre.folder / FILE)
    if is_committed:
        committed(theatre)
    for verb, words in WHOLE.items():
        answer = theatre(*words)
        assert answer.code == 3, verb
        assert answer.out, verb
        assert why in one_line(answer.err), verb
        document = theatre(*words, "--json").document
        assert FILE in {each["path"] for each in document["unreadable"]}, verb
        assert all(each["reason"] for each in document["unreadable"]), verb
    assert nodes(theatre) == STANDING


@pytest.mark.parametrize("kind", ON_DISK)
def test_what_is_broken_is_one_sentence_and_is_named_below_it(theatre: Trueup, kind: str) -> None:
    damage, why = ON_DISK[kind]
    damage(theatre.folder / FILE)
    for verb in ("check", "measure", "walk", "explain", "origin", "history", "conflicts"):
        for node in LOST:
            answer = theatre(verb, node)
            assert (answer.code, answer.out) == (3, ""), (verb, node)
            told = one_line(answer.err)
            assert why in told or kind == "ring"
            assert "easy" in told
            assert "trueup restore" in told


@pytest.mark.parametrize("kind", ON_DISK)
def test_the_last_version_is_still_there(theatre: Trueup, kind: str) -> None:
    before = theatre.made("measure", "easy")
    ON_DISK[kind][0](theatre.folder / FILE)
    assert theatre.made("measure", "easy", "--as-of", "HEAD") == before


@pytest.mark.parametrize(("kind", "is_committed"), CASES, ids=[case_id(c) for c in CASES])
def test_a_step_that_would_reach_it_is_refused(
    theatre: Trueup, kind: str, is_committed: bool
) -> None:
    ON_DISK[kind][0](theatre.folder / FILE)
    if is_committed:
        committed(theatre)
    before = held(theatre)
    for node in ("village", "easy", "blouse"):
        for more in ((), ("--preview",)):
            answer = theatre("correct", node, *LITTLE, *more)
            assert (answer.code, answer.out) == (3, ""), (node, more)
            assert "easy" in one_line(answer.err)
    for name in LOST:
        answer = theatre("derive", name, "--from", "own")
        assert answer.code in (2, 3)
        assert answer.out == ""
    assert theatre("cut", "blouse").code == 3
    assert held(theatre) == before


def held(trueup: Trueup) -> dict[str, object]:
    """Return what every file holds, or is, and where the history stands."""
    found: dict[str, object] = {"HEAD": trueup.contents()["HEAD"]}
    for path in trueup.folder.rglob("*"):
        if ".git" not in path.parts and not path.name.startswith(".trueup"):
            plain = path.is_file() and not path.is_symlink()
            found[str(path)] = path.read_bytes() if plain else path.lstat().st_mode
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_a_step_elsewhere_is_carried_out(theatre: Trueup, kind: str) -> None:
    KINDS[kind][0](theatre.folder / FILE)
    committed(theatre)
    file = theatre.folder / FILE
    before = os.readlink(file) if file.is_symlink() else file.read_bytes()
    answer = theatre.made("correct", "own", *LITTLE, "--json")
    assert "trueup restore" in one_line(answer.err)
    assert theatre.made("derive", "gown", "--from", "own").code == 0
    assert theatre.made("cut", "own", "--date", "2025-03-02").code == 0
    assert (os.readlink(file) if file.is_symlink() else file.read_bytes()) == before
    assert nodes(theatre) == STANDING | {"gown"}
    status = ("git", "-C", str(theatre.folder), "status", "--porcelain")
    assert subprocess.run(status, check=True, capture_output=True).stdout == b""


def test_a_broken_file_that_is_mended_by_hand_stands_again(theatre: Trueup) -> None:
    whole = (theatre.folder / FILE).read_bytes()
    (theatre.folder / FILE).write_bytes(b"")
    committed(theatre)
    (theatre.folder / FILE).write_bytes(whole)
    assert nodes(theatre) == STANDING | LOST
    answer = theatre.made("correct", "village", *LITTLE, "--json")
    assert {each["name"] for each in answer.document["patterns"]} >= LOST
    assert theatre.made("tree").err == ""


DRAWINGS: dict[str, tuple[Damage, str]] = {
    "deleted": (Path.unlink, "missing"),
    "no-text": (content(b"\xff\xfe"), "not UTF-8"),
    "link": (instead(lambda place: place.symlink_to("/etc/hostname")), "link"),
}


@pytest.mark.parametrize("kind", DRAWINGS)
@pytest.mark.parametrize("is_committed", [False, True], ids=["by-hand", "committed"])
def test_a_traced_block_without_its_drawing(theatre: Trueup, kind: str, is_committed: bool) -> None:
    damage, why = DRAWINGS[kind]
    before = theatre("check", "own")
    damage(theatre.folder / "blocks/drawn.svg")
    if is_committed:
        committed(theatre)
    after = theatre("check", "own")
    assert (after.out, after.code) == (before.out, before.code)
    assert nodes(theatre) == (STANDING | LOST) - {"drawn", "coat"}
    for node in ("drawn", "coat"):
        answer = theatre("check", node)
        assert answer.code == 3
        assert why in one_line(answer.err)
        assert "`trueup restore blocks/drawn.svg`" in answer.err


@pytest.mark.parametrize("drawing", [b"", b"<svg/>", b"no drawing"], ids=["empty", "svg", "text"])
def test_a_drawing_that_makes_no_block_is_found_when_it_is_evaluated(
    theatre: Trueup, drawing: bytes, tmp_path: Path
) -> None:
    before = theatre("measure", "own")
    (theatre.folder / "blocks/drawn.svg").write_bytes(drawing)
    assert theatre.made("measure", "own").out == before.out
    for node in ("drawn", "coat"):
        answer = theatre("measure", node)
        assert (answer.code, answer.out) == (3, "")
        assert "`trueup restore blocks/drawn.svg`" in one_line(answer.err)
    answer = theatre("shared", "--all")
    assert answer.code == 3
    assert answer.out
    assert "blocks/drawn.svg" in answer.err
    assert "goes without drawn, coat" in answer.err
    answer = theatre("book", str(tmp_path / "book.html"))
    assert answer.code == 3
    assert "blocks/drawn.svg" in text(opened(tmp_path / "book.html").page("start"))


def test_a_block_that_cannot_be_drafted_hides_no_other(theatre: Trueup) -> None:
    body = ("--waist", "64cm", "--back-length", "38cm", "--sleeve-length", "54cm")
    theatre.made("draft", "child", "--bust", "80cm", *body)
    file = theatre.folder / "blocks/child.toml"
    file.write_text(file.read_text().replace("80cm", "8cm"))
    for verb in ("measure", "walk", "explain", "check", "export"):
        more = (str(theatre.folder.parent / "child.svg"),) if verb == "export" else ()
        answer = theatre(verb, "child", *more)
        assert (answer.code, answer.out) == (3, "")
        assert "`trueup restore blocks/child.toml`" in one_line(answer.err)
    assert theatre("history", "front.armhole").code == 0
    assert theatre("shared", "--all").code == 3
    assert "goes without child" in theatre("shared", "--all").err


def test_a_garment_that_cannot_be_read_hides_no_other(theatre: Trueup) -> None:
    before = theatre("garment", "own-1")
    (theatre.folder / "garments/blouse-1.toml").write_bytes(b"half of")
    answer = theatre("garments", "--json")
    assert answer.code == 3
    assert [each["name"] for each in answer.document["garments"]] == ["own-1"]
    assert [each["path"] for each in answer.document["unreadable"]] == ["garments/blouse-1.toml"]
    after = theatre("garment", "own-1")
    assert (after.out, after.code) == (before.out, 0)
    for words in (("garment", "blouse-1"), ("diagnose", "blouse-1"), ("history", "blouse-1"),
                  ("alter", "blouse-1"), ("shared", "blouse-1"),
                  ("garment", "blouse-1", "--status", "worn")):  # fmt: skip
        answer = theatre(*words)
        assert (answer.code, answer.out) == (3, ""), words
        assert "`trueup restore garments/blouse-1.toml`" in one_line(answer.err)
    committed(theatre)
    theatre.made("cut", "blouse")
    assert (theatre.folder / "garments/blouse-1.toml").read_bytes() == b"half of"
    assert (theatre.folder / "garments/blouse-2.toml").exists()


def test_a_garment_of_a_pattern_that_cannot_be_read_was_not_deleted(theatre: Trueup) -> None:
    (theatre.folder / FILE).write_bytes(b"")
    answer = theatre("garment", "blouse-1")
    assert answer.code == 3
    assert FILE in answer.out
    assert "deleted" not in answer.out
    listed = theatre("garments")
    assert "blouse (cannot be read)" in listed.out
    assert "deleted" not in listed.out
    found = theatre("garments", "--json").document["garments"]
    assert [each["pattern_deleted"] for each in found] == [False, False]
    assert theatre("alter", "blouse-1").code == 3
    assert theatre("history", "blouse-1").code == 3
    assert "deleted" not in theatre("shared", "--all", "--single").out


def test_the_audit_and_the_book_say_what_is_missing(theatre: Trueup, tmp_path: Path) -> None:
    (theatre.folder / FILE).write_bytes(b"")
    committed(theatre)
    file, book = tmp_path / "audit.md", tmp_path / "book.html"
    assert theatre("report", str(file)).code == 3
    assert "What cannot be read" in file.read_text()
    assert FILE in file.read_text()
    audit = theatre("report", "--json")
    assert FILE in {each["path"] for each in audit.document["unreadable"]}
    assert theatre("book", str(book)).code == 3
    made = opened(book)
    assert f"{FILE} (field format) cannot be read" in text(made.page("start"))
    for name in STANDING:
        assert f"{'block' if name in BLOCKS else 'pattern'}/{name}" in made.pages
    assert not [page for page in made.pages if page.endswith(("/easy", "/blouse"))]
    assert "garment/blouse-1" in made.pages


def test_sheets_and_files_of_the_others_are_written(theatre: Trueup, tmp_path: Path) -> None:
    (theatre.folder / FILE).write_bytes(b"")
    for words in (("sheet", "own", "own.pdf"), ("export", "own", "own.dxf"),
                  ("export", "own", "own.json"), ("tree", "--picture", "tree.svg"),
                  ("conflicts", "own", "--picture", "own.svg")):  # fmt: skip
        *rest, name = words
        answer = theatre(*rest, str(tmp_path / name))
        assert answer.code == (3 if rest[0] == "tree" else 0), answer.err
        assert HELPS in one_line(answer.err)
        assert (tmp_path / name).exists()


@pytest.mark.parametrize("damage", [content(b""), content(b"\xff"), Path.unlink,
                                    instead(Path.mkdir)])  # fmt: skip
def test_settings_broken_by_hand_are_taken_as_recorded(theatre: Trueup, damage: Damage) -> None:
    checked, drawn = theatre("check", "own"), theatre("tree")
    damage(theatre.folder / "wardrobe.toml")
    answer = theatre("check", "own")
    assert (answer.out, answer.code) == (checked.out, checked.code)
    assert "`trueup restore wardrobe.toml`" in one_line(answer.err)
    assert "last recorded" in answer.err
    answer = theatre("tree")
    assert (answer.out, answer.code) == (drawn.out, 3)
    before = held(theatre)
    assert theatre("correct", "own", *LITTLE).code == 3
    assert held(theatre) == before


def test_settings_broken_in_the_latest_version_are_one_sentence(theatre: Trueup) -> None:
    (theatre.folder / "wardrobe.toml").write_bytes(b"unit = 3")
    committed(theatre)
    for words in ((), ("tree",), ("check", "own"), ("history",), ("report",), ("garments",)):
        answer = theatre(*words)
        assert (answer.code, answer.out) == (3, ""), words
        assert "`trueup restore wardrobe.toml`" in one_line(answer.err)


def test_many_broken_files_are_one_line(theatre: Trueup) -> None:
    for number in range(9):
        (theatre.folder / f"patterns/extra-{number}.toml").write_bytes(b"")
    answer = theatre("check", "own")
    told = one_line(answer.err)
    assert told.startswith("9 files cannot be read")
    assert "4 more" in told
    assert "`trueup restore FILE`" in told


def test_a_name_that_a_shell_would_read_is_quoted(theatre: Trueup) -> None:
    (theatre.folder / "patterns" / "a b;$(x).toml").write_bytes(b"")
    assert "`trueup restore 'patterns/a b;$(x).toml'`" in one_line(theatre("tree").err)


def test_joining_is_refused_while_a_side_cannot_be_read(theatre: Trueup) -> None:
    git = ("git", "-C", str(theatre.folder))
    subprocess.run([*git, "branch", "other"], check=True)
    theatre.made("correct", "own", *LITTLE)
    (theatre.folder / FILE).write_bytes(b"")
    committed(theatre)
    subprocess.run([*git, "checkout", "-q", "other"], check=True)
    theatre.made("style", "vest", "lower-neck", "--piece", "front", "--by", "2mm")
    subprocess.run([*git, "checkout", "-q", "main"], check=True)
    before = held(theatre)
    for more in ((), ("--preview",)):
        answer = theatre("mend", "other", *more)
        assert answer.code == 3
        assert HELPS in one_line(answer.err)
    assert held(theatre) == before


def test_a_missing_content_is_one_file_that_cannot_be_read(theatre: Trueup) -> None:
    git = ("git", "-C", str(theatre.folder))
    (theatre.folder / FILE).write_bytes((theatre.folder / FILE).read_bytes() + b"# new\n")
    committed(theatre)
    asked = subprocess.run([*git, "rev-parse", f"HEAD:{FILE}"], check=True, capture_output=True)
    blob = asked.stdout.decode().strip()
    (theatre.folder / ".git/objects" / blob[:2] / blob[2:]).unlink()
    before = theatre("check", "own")
    assert before.code in (0, 1)
    assert "(`trueup restore`)" in one_line(before.err)
    assert nodes(theatre) == STANDING
    assert theatre("check", "easy").code == 3
    # It lies in the folder still, and so it is brought back without being taken from before.
    theatre.made("restore")
    assert theatre("check", "easy").code in (0, 1)
    assert (theatre.folder / FILE).read_bytes().endswith(b"# new\n")


@pytest.fixture
def nobody(made: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Trueup]:
    """The command run by somebody who is not the superuser, in a wardrobe of their own."""
    main(["-C", str(made), "check", "own"])  # so that everything is imported
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "theatre"
        copied(made, folder)
        monkeypatch.setenv("HOME", name)
        is_superuser = os.geteuid() == 0
        if is_superuser:
            Path(name).chmod(0o755)
            for path in (folder, *folder.rglob("*")):
                os.chown(path, 65534, 65534, follow_symlinks=False)
            os.seteuid(65534)
        try:
            yield Trueup(folder)
        finally:
            if is_superuser:
                os.seteuid(0)


def test_a_file_that_may_not_be_read_hides_no_other(nobody: Trueup) -> None:
    before = nobody.made("measure", "own")
    (nobody.folder / FILE).chmod(0)
    after = nobody("measure", "own")
    assert (after.out, after.code) == (before.out, 0)
    assert "Permission denied; allow reading it and try again" in one_line(after.err)
    answer = nobody("measure", "easy")
    assert (answer.code, answer.out) == (2, "")
    assert "allow reading it and try again" in one_line(answer.err)
    step = nobody("correct", "village", *LITTLE)
    assert (step.code, step.out) == (2, "")
    (nobody.folder / "patterns/vest.toml").chmod(0)
    assert "2 files cannot be read" in one_line(nobody("tree").err)
    assert "; allow reading them; until then" in nobody("tree").err
    (nobody.folder / "patterns/vest.toml").chmod(0o644)
    (nobody.folder / "patterns").chmod(0)
    answer = nobody("tree")
    (nobody.folder / "patterns").chmod(0o755)
    assert answer.code == 3
    assert "village" in answer.out
    assert nobody("measure", "easy", "--as-of", "HEAD").code == 0


def test_damage_in_an_older_version_does_not_last(theatre: Trueup) -> None:
    whole = (theatre.folder / FILE).read_bytes()
    (theatre.folder / FILE).write_bytes(b"")
    committed(theatre)
    theatre.made("correct", "own", *LITTLE)
    (theatre.folder / FILE).write_bytes(whole)
    theatre.made("correct", "vest", "scoop-armhole", "--piece", "back", "--by", "1mm")
    for words in ((), ("tree",), ("conflicts",), ("garments",), ("shared", "--all")):
        assert theatre(*words).err == "", words
    told: Any = theatre.made("history", "--effects", "--json").document["history"]
    by_subject = {each["says"]: each for each in told}
    (correction,) = [e for e in told if e["node"] == "own" and e["unreadable"]]
    assert [each["name"] for each in correction["measures"]]
    assert FILE in correction["unreadable"]
    assert by_subject["Correct vest: scoop-armhole"]["unreadable"] is None
    mended = by_subject[f"Edited by hand: {FILE}"]
    assert mended["made"] == []
    assert theatre.made("history", "easy").code == 0
    assert theatre.made("measure", "easy", "front.shoulder", "--over-time").code == 0
