"""Bad input: one sentence on stderr, exit code 2 or 3, nothing written and nothing lost."""

import re
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Trueup, run

SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front")
DRAFT = ("draft", "new", "--waist", "68", "--back-length", "38", "--sleeve-length", "54")
FITTING = "[[corrections]]\nkind = "


def refused(trueup: Any, *words: str, code: int = 2) -> str:
    """Run a command that must be refused; return its one sentence."""
    before = trueup.contents()
    answer = trueup(*words)
    assert answer.code == code, answer
    assert answer.out == ""
    assert trueup.contents() == before
    sentence = answer.err
    assert sentence.endswith("\n")
    assert sentence.count("\n") == 1
    assert "Traceback" not in sentence
    assert "did not expect" not in sentence
    assert sentence.removesuffix("\n").isprintable()
    return str(sentence)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("correct", "vilage", *SCOOP[2:], "--by", "2"), "try village"),
        (("measure", "blous"), "try blouse"),
        (("check", "blous"), "try blouse"),
        (("walk", "blous"), "try blouse"),
        (("origin", "blous"), "try blouse"),
        (("history", "blous"), "try blouse"),
        (("conflicts", "blous"), "try blouse"),
        (("export", "blous", "x.svg"), "try blouse"),
        (("derive", "new", "--from", "vilage"), "try village"),
        (("derive", "new", "--from", "village:front,sleve"), "try sleeve"),
        (("derive", "new"), "--from"),
        (("derive", "new", "--from", "village:"), "village:front,back"),
        (("derive", "new", "--from", "village", "--from", "own"), "name the pieces"),
        (("derive", "blouse", "--from", "village"), "already"),
        (("derive", "New Blouse", "--from", "village"), "cannot be a name"),
        (("derive", "../new", "--from", "village"), "cannot be a name"),
        (("correct", "village", "scop-armhole"), "try scoop-armhole"),
        (("correct", "village"), "kind of change"),
        (("style", "village"), "kind of change"),
        (("style",), "PATTERN"),
        (("corect", "village"), "try correct"),
        (("measure", "village", "front.shulder"), "try front.shoulder"),
        (("walk", "village", "side-sea"), "try side-seam"),
        (("origin", "village", "front.armhol"), "try front.armhole"),
        (("correct", "village", "deepen-dart", "--dart", "front.burst", "--by", "1"), "front.bust"),
        (
            ("style", "village", "redraw-edge", "--edge", "front.armhol", "--through", "30%:20mm"),
            "try front.armhole",
        ),
        (("correct", "vest", "refit-cap"), "sleeve"),
        (("amend", "blouse", "nosuch", "--by", "2"), "is no step of blouse"),
        (("amend", "blouse", "nosuch"), "Say what shall be otherwise"),
        (("drop", "blouse", "nosuch"), "is no step of blouse"),
        (("decide", "nosuch", "accept"), "no conflict"),
        (("tree", "--as-of", "nosuch"), "no version"),
        (("measure", "village", "--as-of", "-x"), "no version"),
        (("tree", "extra"), "extra"),
        (("tree", "--as-off", "HEAD"), "try --as-of"),
        (("history", "--last", "0"), "--last"),
        (("--nosuch",), "no option --nosuch"),
    ],
)
def test_what_is_not_there_is_answered_with_the_nearest_there_is(
    trueup: Any, words: tuple[str, ...], told: str
) -> None:
    assert told in refused(trueup, *words)


@pytest.mark.parametrize(
    ("amount", "told"),
    [
        ("20ft", "ft is not a known unit"),
        ("two", "not a length"),
        ("", "it is empty"),
        ("nan", "not a length"),
        ("inf", "not a length"),
        ("1/0in", "divided by 0"),
        ("1,200mm", "comma"),
        ("0", "would change nothing"),
        ("5000cm", "it is more than 10 m"),
        ("70mm", "between -6 cm and 6 cm"),
        ("9" * 500, "far too long"),
    ],
)
def test_an_amount_that_is_none_or_makes_no_sense(trueup: Any, amount: str, told: str) -> None:
    assert told in refused(trueup, *SCOOP, "--by", amount)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("deepen-dart", "--dart", "front.bust", "--by", "299mm"), "at most"),
        (("move-apex", "--dart", "front.bust", "--by", "125mm"), "at most"),
        (("lower-armhole", "--by", "200mm"), "as far as"),
        (("shorten-shoulder", "--by", "130mm"), "as far as"),
        (("widen-neck", "--by", "127mm"), "as far as"),
        (("true-hem", "--piece", "front", "--by", "-171mm"), "as far as"),
        (("refit-cap", "--to", "900mm"), "can bring the ease from"),
    ],
)
def test_an_amount_the_geometry_cannot_take_is_answered_with_what_would_be_possible(
    trueup: Any, words: tuple[str, ...], told: str
) -> None:
    sentence = refused(trueup, "correct", "village", *words)
    assert sentence.startswith(f"On village: {words[0]} cannot be done on ")
    assert told in sentence


@pytest.mark.parametrize(
    ("place", "told"),
    [
        ("200mm from neck-point", "only"),
        ("middle", "write it like"),
        ("-5mm from neck-point", "not negative"),
        ("140% from neck-point", "between 0% and 100%"),
        ("10mm from underarm", "neck-point"),
    ],
)
def test_a_place_the_edge_does_not_have(trueup: Any, place: str, told: str) -> None:
    words = ("correct", "village", "rotate-dart", "--dart", "front.bust")
    assert told in refused(trueup, *words, "--edge", "front.shoulder", "--at", place)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--bust", "8800mm"), "bust cannot be 880 cm"),
        (("--bust", "-5"), "bust cannot be"),
        (("--bust", "nan"), "not a length"),
        (("--bust", "88ells"), "ells is not a known unit"),
        ((), "bust cannot be left out"),
        (("--bust", "88", "--system", "nosuch"), "try bust-proportion"),
        (("--bust", "88", "--hips", "99"), "no option --hips"),
    ],
)
def test_a_body_no_block_is_drafted_for(trueup: Any, words: tuple[str, ...], told: str) -> None:
    assert told in refused(trueup, *DRAFT, *words)


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "[[corrections]]"),
        (b"why = 'cut in ha", "not TOML"),
        (b"\xff\xfe", "not UTF-8"),
        (b"corrections = 3", "[[corrections]]"),
        (b"corrections = [3]", "does not say its kind"),
        (FITTING.encode() + b"'nosuch'", "not a kind of change"),
        (FITTING.encode() + b"'scoop-armhole'\npiece='front'\nby='2ft'", "correction 1"),
        (FITTING.encode() + b"'scoop-armhole'\npiece='front'\nbye='2'", "try by"),
        (b"note = 1\n" + FITTING.encode() + b"'refit-cap'", '"note"'),
        (b"why = 1\n" + FITTING.encode() + b"'refit-cap'", "why is not a text"),
        (b"a = " + b"[" * 5000, "fitting"),
    ],
)
def test_a_fitting_that_cannot_be_read(
    trueup: Any, tmp_path: Path, content: bytes, told: str
) -> None:
    file = tmp_path / "fitting.toml"
    file.write_bytes(content)
    assert told in refused(trueup, "correct", "village", "--from", str(file))


def test_a_fitting_is_all_or_nothing(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "fitting.toml"
    file.write_text(
        f"{FITTING}'scoop-armhole'\npiece='front'\nby='2cm'\n"
        f"{FITTING}'deepen-dart'\ndart='front.nosuch'\nby='1cm'\n"
    )
    assert "front.nosuch" in refused(trueup, "correct", "village", "--from", str(file))


def test_a_fitting_that_is_not_there(trueup: Any, tmp_path: Path) -> None:
    assert "nosuch.toml" in refused(
        trueup, "correct", "village", "--from", str(tmp_path / "nosuch.toml")
    )
    assert str(tmp_path) in refused(trueup, "correct", "village", "--from", str(tmp_path))


def test_a_kind_and_a_fitting_together(trueup: Any, tmp_path: Path) -> None:
    assert "not both" in refused(trueup, "correct", "village", "--from", str(tmp_path), "refit-cap")


def test_a_remedy_the_conflict_does_not_offer(corrected: Any) -> None:
    (found,) = corrected("conflicts", "village", "--json").document["conflicts"]
    assert "refit-cap" in refused(corrected, "decide", found["id"], "refit")


@pytest.mark.parametrize(
    ("name", "told"),
    [("x.doc", "x.svg"), ("nosuch/x.svg", "There is no folder"), ("there.svg", "--force")],
)
def test_a_file_that_is_not_exported_to(trueup: Any, tmp_path: Path, name: str, told: str) -> None:
    (tmp_path / "there.svg").write_text("mine")
    assert told in refused(trueup, "export", "blouse", str(tmp_path / name))
    assert (tmp_path / "there.svg").read_text() == "mine"


@pytest.mark.parametrize("verb", ["tree", "undo", "conflicts"])
def test_a_folder_that_is_no_wardrobe(tmp_path: Path, anywhere: Any, verb: str) -> None:
    for folder in (tmp_path, tmp_path / "nosuch"):
        answer = anywhere("-C", str(folder), verb)
        assert answer.code == 2
        assert answer.err.count("\n") == 1
        assert "is not a wardrobe" in answer.err
    assert list(tmp_path.iterdir()) == []


def test_a_wardrobe_is_not_started_over_anything(trueup: Any, anywhere: Any) -> None:
    before = trueup.contents()
    answer = anywhere("start", str(trueup.folder))
    assert (answer.code, answer.err.count("\n")) == (2, 1)
    assert trueup.contents() == before


def test_a_unit_nobody_sews_in(tmp_path: Path, anywhere: Any) -> None:
    answer = anywhere("start", str(tmp_path / "new"), "--unit", "ft")
    assert (answer.code, answer.err) == (2, "unit cannot be ft: it is mm, cm or in.\n")
    assert not (tmp_path / "new").exists()


def test_nothing_to_undo(tmp_path: Path, anywhere: Any) -> None:
    anywhere("start", str(tmp_path / "new"))
    answer = anywhere("-C", str(tmp_path / "new"), "undo")
    assert (answer.code, answer.err.count("\n")) == (2, 1)


def test_undo_leaves_edits_made_by_hand_alone(trueup: Any) -> None:
    file = trueup.folder / "patterns/blouse.toml"
    file.write_text(file.read_text().replace('by = "20mm"', 'by = "25mm"'))
    assert "patterns/blouse.toml" in refused(trueup, "undo")
    assert 'by = "25mm"' in file.read_text()


def test_a_step_that_is_refused_takes_up_no_edits(trueup: Any) -> None:
    file = trueup.folder / "patterns/blouse.toml"
    file.write_text(file.read_text().replace('by = "20mm"', 'by = "25mm"'))
    refused(trueup, *SCOOP, "--by", "20ft")


@pytest.mark.parametrize(
    ("verb", "code"),
    [
        (("tree",), 3),
        ((*SCOOP, "--by", "2cm"), 3),
        (("check", "blouse"), 3),
        (("check", "easy"), 0),
    ],
    ids=["whole", "step", "itself", "another"],
)
@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b'format = 1\nname = "bl', "not TOML"),
        (b'\xff\xfename = "blouse"', "not UTF-8"),
        (b'format = 99\nname = "blouse"', "format"),
        (b'name = "blouse"', "format"),
        (b'format = 1\nname = "blouse"\n[[parents]]\nname = "nosuch"', "nosuch"),
        (b'format = 1\nname = "blouse"\n[[parents]]\nname = "blouse"', "blouse -> blouse"),
        (b'format = 1\nname = "other"\n[[parents]]\nname = "easy"', "name"),
        (b'format = 1\nname = "blouse"\nsteps = 3\n[[parents]]\nname = "easy"', "blouse.toml"),
        (b"", "format"),
    ],
)
def test_a_file_that_does_not_say_what_it_should_is_damage(
    trueup: Any, verb: tuple[str, ...], code: int, content: bytes, told: str
) -> None:
    (trueup.folder / "patterns/blouse.toml").write_bytes(content)
    before = trueup.contents()
    answer = trueup(*verb)
    assert answer.code == code
    assert answer.err.count("\n") == 1
    assert told in answer.err
    assert "patterns/blouse.toml" in answer.err
    assert bool(answer.out) == (verb in (("tree",), ("check", "easy")))
    assert trueup.contents() == before


def test_a_wardrobe_whose_history_is_damaged(trueup: Any) -> None:
    (trueup.folder / ".git/refs/heads/main").write_text("0" * 40 + "\n")
    answer = trueup("tree")
    assert answer.code == 3
    assert answer.err.count("\n") == 1


def test_a_name_that_would_act_on_the_terminal_is_made_visible(trueup: Any) -> None:
    assert "\\x1b[31m" in refused(trueup, "measure", "a\x1b[31m\nb")
    assert "\\x1b" in refused(trueup, "correct", "village", "sc\x1b[31m")
    refused(trueup, "correct", "village", "refit-cap", "--\x1b[31m")
    refused(trueup, "measure", "\udcff")


def test_what_is_decided_already_is_said_to_be_so(corrected: Any) -> None:
    found = corrected("conflicts", "village", "--json").document["conflicts"][0]["id"]
    corrected.made("decide", found, "refit-cap")
    for remedy in ("refit-cap", "accept"):
        assert refused(corrected, "decide", found, remedy) == (
            f"{found} at village is settled already by refit-cap, so there is nothing left to "
            "decide; look at the conflicts that are open.\n"
        )


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (("deepen-dart", "--dart", "front.bust"), "by cannot be left out: give by or to."),
        (
            ("deepen-dart", "--dart", "front.bust", "--by", "1", "--to", "3"),
            "by cannot be given beside to: give one of the two.",
        ),
        (("seam-allowance", "--by", "1"), "edge cannot be left out: give edge or piece."),
    ],
)
def test_one_of_two_options_is_asked_for(trueup: Any, given: tuple[str, ...], told: str) -> None:
    assert refused(trueup, "correct", "village", *given) == f"{told}\n"


def test_json_before_a_verb_that_has_none_is_refused(trueup: Any) -> None:
    sentence = refused(trueup, "--json", "undo")
    assert sentence == "`undo` has no answer as JSON; leave out --json.\n"


@pytest.mark.parametrize(
    ("words", "asked", "limit"),
    [
        (("deepen-dart", "--dart", "front.bust", "--by"), "10", r"at most (.*?) in more"),
        (("deepen-dart", "--dart", "front.bust", "--to"), "20", r"at most (.*?) in\."),
        (("scoop-armhole", "--piece", "front", "--by"), "5", r"and (.*?) in\."),
        (("scoop-armhole", "--piece", "back", "--by"), "1", r"as far as (.*?) in\."),
    ],
)
def test_a_limit_is_told_in_the_wardrobes_unit_and_can_be_taken(
    tmp_path: Path, anywhere: Any, words: tuple[str, ...], asked: str, limit: str
) -> None:
    folder = str(tmp_path / "inches")
    anywhere("start", folder, "--unit", "in")
    body = ("--bust", "34 1/2", "--waist", "27", "--back-length", "15", "--sleeve-length", "21")
    anywhere("-C", folder, "draft", "village", *body)
    refusal = anywhere("-C", folder, "correct", "village", *words, asked)
    assert refusal.code == 2
    assert "mm" not in refusal.err
    found = re.search(limit, refusal.err)
    assert found, refusal.err
    again = anywhere("-C", folder, "correct", "village", *words, found[1], "--preview")
    assert "it lies between" not in again.err
    assert again.code == 0 or "lies between" in refusal.err, again.err


def test_a_body_that_no_block_fits_is_told_in_the_wardrobes_unit(
    tmp_path: Path, anywhere: Any
) -> None:
    folder = str(tmp_path / "inches")
    anywhere("start", folder, "--unit", "in")
    body = ("--waist", "27", "--back-length", "15", "--sleeve-length", "21")
    answer = anywhere("-C", folder, "draft", "village", "--bust", "90", *body)
    assert answer.err == "bust cannot be 90 in: it lies between 29 3/16 in and 46 7/16 in.\n"


def test_what_was_typed_is_quoted_as_it_was_typed(trueup: Any) -> None:
    assert '"5 mm long"' in refused(trueup, *SCOOP, "--by", "5 mm long")


@pytest.fixture
def inches(tmp_path: Path) -> Trueup:
    """A wardrobe whose maker reads inches, with a coat longer than a sheet."""
    store = Trueup(tmp_path / "inches")
    assert run("start", str(store.folder), "--unit", "in").code == 0
    body = ("--bust", "36", "--waist", "28", "--back-length", "15", "--sleeve-length", "22")
    store.made("draft", "block", *body)
    store.made("derive", "coat", "--from", "block")
    store.made("style", "coat", "lengthen", "--by", "35")
    return store


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("correct", "block", "lengthen", "--by", "500in"), "more than 393 in"),
        (("sheet", "coat", "x.pdf", "--paper", "500in"), "more than 393 in"),
        (("sheet", "coat", "x.pdf", "--paper", "300in"), "which is 200 in"),
        (("sheet", "coat", "x.pdf", "--paper", "a0"), "offers 45 11/16 in"),
        (("sheet", "coat", "x.pdf", "--paper", "8in"), "a roll 8 in wide"),
        (("alter", "coat-1", "--least", "50in"), "between 0 in and 3 7/8 in"),
    ],
)
def test_limits_are_told_in_the_unit_the_maker_reads(
    inches: Trueup, words: tuple[str, ...], told: str
) -> None:
    sentence = refused(inches, *words)
    assert told in sentence
    assert " mm" not in sentence
    assert not re.search(r"\d m\b", sentence)


def test_a_preview_prints_no_command_for_what_is_only_foretold(trueup: Any) -> None:
    words = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    document = trueup.made(*words, "--preview", "--json").document
    offered = [each for conflict in document["conflicts"] for each in conflict["remedies"]]
    assert offered
    assert {each["command"] for each in offered} == {None}
    assert "decide" not in trueup.made(*words, "--preview").out
