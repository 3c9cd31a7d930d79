"""What is recorded on the live page is what the command records, file for file."""

import re
import shlex
from pathlib import Path

import pytest

from tests.cli.conftest import Trueup
from tests.live.running import Running, running
from tests.sharing.copied import copied
from trueup.lineage.wardrobe import Wardrobe

SCOOP = {"node": "village", "kind": "scoop-armhole", "values": {"piece": "front", "by": "2"}}


def tried(live: Running, correction: dict) -> str:
    """Try a correction, and return the version it was tried on."""
    first = live.ask("preview", change=correction).lines[0]
    return first["version"]


def record(live: Running, correction: dict, version: str):
    return live.ask("record", change=correction, version=version).line


def files(folder: Path) -> dict[str, bytes]:
    kept = [p for p in folder.rglob("*") if p.is_file() and ".git" not in p.parts]
    return {str(p.relative_to(folder)): p.read_bytes() for p in kept}


def without_ids(found: dict[str, bytes]) -> dict[str, bytes]:
    return {path: re.sub(rb"\b[0-9a-f]{8,40}\b", b"ID", text) for path, text in found.items()}


def told(folder: Path) -> list[tuple[str, str, dict]]:
    """Return what the history tells of every step."""
    with Wardrobe.open(folder) as wardrobe:
        return [(each.subject, each.body, dict(each.trailers)) for each in wardrobe.history()]


@pytest.mark.parametrize(
    "correction",
    [
        SCOOP,
        {**SCOOP, "why": "the armhole binds, she says"},
        {**SCOOP, "why": "-gapes; `rm` $HOME 'so' \"to say\""},
        {**SCOOP, "values": {"piece": "front", "by": "-1/4in", "at": "40% from underarm"}},
        {**SCOOP, "values": {"piece": "back", "by": "bust/220", "side": "left"}},
        {"node": "village", "kind": "slope-shoulder", "values": {"by": "1", "with_underarm": True}},
        {"node": "easy", "kind": "shorten-shoulder", "values": {"by": "0,8"}},
        {"node": "blouse", "kind": "deepen-dart", "values": {"dart": "front.bust", "by": "0.5cm"}},
    ],
    ids=str,
)
def test_a_recorded_correction_equals_that_of_the_command_shown(wardrobe, correction, tmp_path):
    copy = tmp_path / "copy"
    copied(wardrobe, copy)
    with running(wardrobe, "--no-browser") as live:
        answer = record(live, correction, tried(live, correction))
    assert "recorded" in answer, answer
    words = shlex.split(answer["command"])
    assert words[0] == "trueup"
    Trueup(copy).made(*words[1:])
    assert files(wardrobe) == files(copy)
    assert told(wardrobe) == told(copy)
    assert len(told(wardrobe)) == len(told(copy))


def test_a_correction_that_mends_equals_that_of_the_command_shown(wardrobe, trueup, tmp_path):
    trueup.made("cut", "blouse", "--name", "tea-blouse", "--wearer", "A")
    noted = trueup.made("note", "tea-blouse", "armhole-binds", "--place", "front.armhole")
    (note,) = re.findall(r"note-[0-9a-f]+|\b[0-9a-f]{8}\b", noted.out)[:1]
    copy = tmp_path / "copy"
    copied(wardrobe, copy)
    correction = {**SCOOP, "mends": [note]}
    with running(wardrobe, "--no-browser") as live:
        page = live.ask("view", address="try/village").line["content"]
        assert note in page
        answer = record(live, correction, tried(live, correction))
        assert note not in live.ask("view", address="try/village").line["content"]
    Trueup(copy).made(*shlex.split(answer["command"])[1:])
    assert files(wardrobe) == files(copy)


def test_the_maker_s_own_edits_become_a_step_before_as_with_the_command(wardrobe, tmp_path):
    file = wardrobe / "patterns" / "blouse.toml"
    file.write_text(file.read_text() + "\n# hers\n")
    copy = tmp_path / "copy"
    copied(wardrobe, copy)
    with running(wardrobe, "--no-browser") as live:
        answer = record(live, SCOOP, tried(live, SCOOP))
    assert "patterns/blouse.toml" in answer["first"]
    Trueup(copy).made(*shlex.split(answer["command"])[1:])
    # The step's id follows from that of the step before, which follows from the second it was made.
    assert without_ids(files(wardrobe)) == without_ids(files(copy))
    assert b"# hers" in files(copy)["patterns/blouse.toml"]


def test_nothing_is_written_while_it_is_tried(wardrobe, live):
    before = files(wardrobe), told(wardrobe)
    for by in ("1", "2", "30", "nonsense"):
        live.ask("preview", change={**SCOOP, "values": {"piece": "front", "by": by}})
    assert (files(wardrobe), told(wardrobe)) == before


def test_nothing_is_recorded_on_a_state_that_was_not_seen(wardrobe, live, trueup):
    seen = tried(live, SCOOP)
    trueup.made("style", "blouse", "lengthen", "--by", "1cm")
    before = files(wardrobe), told(wardrobe)
    assert record(live, SCOOP, seen).keys() == {"moved"}
    assert (files(wardrobe), told(wardrobe)) == before
    now = live.ask("now", version=seen).line
    assert now["version"] != seen
    assert any("blouse" in each for each in now["since"])
    assert "recorded" in record(live, SCOOP, tried(live, SCOOP))


def test_nothing_is_recorded_on_edits_that_were_not_seen(wardrobe, live):
    file = wardrobe / "patterns" / "blouse.toml"
    seen = tried(live, SCOOP)
    file.write_text(file.read_text() + "\n# hers\n")
    assert record(live, SCOOP, seen).keys() == {"moved"}
    seen = tried(live, SCOOP)
    file.write_text(file.read_text() + "\n# again\n")
    assert record(live, SCOOP, seen).keys() == {"moved"}
    assert "recorded" in record(live, SCOOP, tried(live, SCOOP))


@pytest.mark.parametrize(
    "values",
    [
        {"piece": "front", "by": "30cm"},
        {"piece": "front", "by": "5.9"},
        {"piece": "sleeve", "by": "1"},
        {"piece": "front"},
        {"piece": "front", "by": "far"},
        {"piece": "front", "by": "1", "at": "somewhere"},
        {"piece": "front", "by": "1", "height": "3"},
    ],
    ids=str,
)
def test_what_cannot_be_done_is_told_in_the_command_s_sentence(live, trueup, values):
    words = [word for name, text in values.items() for word in (f"--{name}", text)]
    answer = trueup("correct", "village", "scoop-armhole", *words, "--preview")
    assert answer.code == 2
    lines = live.ask("preview", change={**SCOOP, "values": values}).lines
    assert not any("row" in line for line in lines)
    if "height" not in values:  # an option there is not is told by the command line itself
        assert lines[-1]["refused"] == answer.err.strip()
