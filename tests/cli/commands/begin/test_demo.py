"""The demo, through the real command: what it shows, and what it leaves behind."""

import json
import re
import shlex
import subprocess
from itertools import pairwise
from pathlib import Path

import pytest

from tests.cli.conftest import Answer, run
from trueup.geometry.tolerance import CAP_EASE

VERDICTS = ("carried", "partly", "lost", "doubled", "conflict", "held")


def trueup(folder: Path, *words: str, **more: str) -> Answer:
    """Run the command as a maker does who stands in a folder."""
    with pytest.MonkeyPatch.context() as patched:
        patched.chdir(folder)
        for name in ("COLUMNS", "LINES", "NO_COLOR", "FORCE_COLOR"):
            patched.delenv(name, raising=False)
        for name, value in more.items():
            patched.setenv(name, value)
        return run(*words)


def answer(folder: Path, *words: str) -> dict[str, object]:
    found: dict[str, object] = json.loads(trueup(folder, "-C", "theatre-store", *words).out)
    return found


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("demo")


@pytest.fixture(scope="module")
def shown(place: Path) -> str:
    done = trueup(place, "demo")
    assert (done.code, done.err) == (0, "")
    return done.out


def test_a_correction_that_does_not_arrive_is_told_by_the_measure_it_means(shown: str) -> None:
    _, _, told = shown.partition("does not reach the front armhole (both-shaped-")
    assert "\n  front.chest-width 155.8 mm, as before\n" in told.partition("\n\n")[0]


def test_all_six_verdicts_are_shown(shown: str) -> None:
    table = shown.partition("Decide ")[0]
    for verdict in VERDICTS:
        assert re.search(rf"^(\S+ +)?\S (\d+ )?{verdict}\b", table, re.MULTILINE), verdict


def test_the_cap_conflict_names_lengths_ease_range_and_the_refit(shown: str) -> None:
    start = shown.index("\nmarta-block: the front part of the sleeve cap holds ")
    said = shown[start : shown.index("\n\n", start)]
    cap, armhole, ease = (
        float(number)
        for number in re.findall(
            r"sleeve.cap measures ([\d.]+) mm and .* ([\d.]+) mm: the ease is ([\d.]+) mm", said
        )[0]
    )
    assert cap - armhole == pytest.approx(ease, abs=0.16)
    before, after, low, high = (
        float(number)
        for number in re.findall(
            r"ease of the front part ([\d.]+) mm (?:->|→) ([\d.]+) mm .*"
            r"allowed ([\d.]+) mm to ([\d.]+) mm",
            said,
        )[0]
    )
    (front,) = re.findall(r"Its front part has ([\d.]+) mm of it", said)
    assert after == pytest.approx(float(front), abs=0.16)
    assert after < low < before < high
    assert re.search(r"^ +- redraw the cap by \+[\d.]+ mm", said, re.MULTILINE)
    assert re.search(r"trueup -C theatre-store decide \S+ refit-cap$", said, re.MULTILINE)


def test_refitting_the_cap_brings_back_the_wanted_ease_and_check_is_clean(
    shown: str, place: Path
) -> None:
    everything = answer(place, "conflicts", "--all", "--json")["conflicts"]
    assert isinstance(everything, list)
    (settled,) = [each for each in everything if each["arose_at"] == "marta-block"]
    assert settled["state"] == "settled"
    measures = answer(place, "measure", "marta-block", "--json")["measures"]
    assert isinstance(measures, dict)
    assert abs(measures["sleeve.cap-ease"] - settled["whole_before_mm"]) <= CAP_EASE
    assert trueup(place, "-C", "theatre-store", "check", "marta-block").code == 0
    assert "marta-block is true" in shown


def test_the_correction_mends_one_of_the_common_causes_and_leaves_the_others(
    shown: str, place: Path
) -> None:
    before = shown.partition("Correct marta-block")[0]
    assert "17 open notes: 3 common causes" in before
    line = next(row for row in before.splitlines() if " correct marta-block " in row)
    words = shlex.split(line)
    mended = {word for option, word in pairwise(words) if option == "--mends"}
    assert len(mended) == 3
    garments = answer(place, "garments", "--json")["garments"]
    assert isinstance(garments, list)
    notes = {note["id"]: note for garment in garments for note in garment["notes"]}
    assert all(notes[each]["resolved_by"] for each in mended)
    causes = answer(place, "shared", "--all", "--json")["causes"]
    assert isinstance(causes, list)
    assert {cause["node"] for cause in causes} == {"easy-block", "coat-block"}


def test_it_ends_with_the_garments_that_were_cut_before_the_correction(
    shown: str, place: Path
) -> None:
    end = shown.split("marta-block is true")[1]
    for garment in ("ball-ivory", "ball-understudy", "masquer-velvet", "riding-green"):
        assert garment in end
    (line,) = [row for row in end.splitlines() if " alter " in row]
    done = trueup(place, *shlex.split(line)[1:])
    assert done.code == 0
    assert "In sewing order" in done.out


def test_it_leaves_a_clean_folder_with_something_to_decide(shown: str, place: Path) -> None:
    store = place / "theatre-store"
    status = subprocess.run(
        ["git", "status", "--porcelain"], cwd=store, capture_output=True, text=True, check=True
    )
    assert status.stdout == ""
    waiting = answer(place, "conflicts", "--json")["conflicts"]
    assert isinstance(waiting, list)
    assert {each["kind"] for each in waiting} == {"seam", "both-shaped", "doubled"}


def test_the_commands_it_suggests_work_as_they_stand(shown: str, place: Path) -> None:
    suggested = shown.split("yours to explore:")[1].strip().splitlines()
    assert len(suggested) >= 2
    for line in suggested:
        program, *words = shlex.split(line)
        assert program == "trueup"
        done = trueup(place, *words)
        assert done.code in (0, 1), done.err
        assert done.out


def test_a_folder_that_is_not_empty_is_refused_and_left_alone(tmp_path: Path) -> None:
    (tmp_path / "shopping.txt").write_text("thread")
    done = trueup(tmp_path, "demo", ".")
    assert done.code == 2
    assert len(done.err.splitlines()) == 1
    assert "empty" in done.err
    assert [each.name for each in tmp_path.iterdir()] == ["shopping.txt"]


def test_a_command_is_never_broken_over_two_lines(shown: str, place: Path) -> None:
    narrow = trueup(place, "-C", "theatre-store", "conflicts", COLUMNS="40").out
    commands = [line.strip() for line in narrow.splitlines() if line.strip().startswith("trueup ")]
    assert commands
    assert all(len(shlex.split(line)) == 6 for line in commands)


def test_the_garments_are_played_true_and_a_correction_of_their_block_is_previewed(
    place: Path,
) -> None:
    done = trueup(place, "demo", "stage", "--garments")
    assert (done.code, done.err) == (0, "")
    told = [line.strip() for line in done.out.splitlines() if line.startswith("  trueup")]
    assert len(told) == 4
    for line in told:
        shown = trueup(place, *shlex.split(line)[1:])
        assert shown.code in (0, 1), shown.err
        assert shown.err == ""
    again = trueup(place, "demo", "stage", "--garments")
    assert again.code == 2
    assert "not an empty folder" in again.err
