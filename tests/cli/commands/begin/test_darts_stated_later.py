"""A block whose darts nobody named when it was traced: stated later, they are darts like any other.

The names file lists the lines of each V among those of its edge. Below the block stands a pattern
already; what is stated arrives there too.
"""

import re
import shlex
from typing import Any

import pytest

from tests.cli.commands.begin.drawn import drawn
from tests.cli.commands.begin.test_trace_twins import BODICE, draft_of, told
from tests.cli.conftest import Trueup, run
from trueup.geometry.measuring.measures import measures

DARTS = (
    "state-dart --edge front.armhole --name bust",
    'state-dart --edge front.hem --name waist --at "60mm from hem-centre" --setback 25mm',
    "state-dart --edge front.hem --name waist-side --setback 60mm",
    "state-dart --edge back.shoulder --name shoulder",
    'state-dart --edge back.hem --name waist --at "40mm from hem-centre"',
    "state-dart --edge back.hem --name waist-side",
)
CORRECTIONS = tuple(
    step
    for step in BODICE.corrections
    if "dart" in step or step.split()[0] in ("move-apex", "change-bust", "taper-side", "add-ease")
)


def without_darts(names: str) -> str:
    """Return a names file in which the line of each dart is one of the edge it opens on."""
    darts = re.compile(r"\[piece\.darts\]\n((?:\S+ = \d+\n)+)")
    for found in darts.finditer(names):
        for line in re.findall(r"\d+", found[1]):
            lines = rf"(?<=\[|\s){int(line) - 1}, (?={int(line) + 1}\b)"
            names, many = re.subn(lines, f"{int(line) - 1}, {line}, ", names)
            assert many == 1
    return darts.sub("", names)


@pytest.fixture(scope="module")
def two(tmp_path_factory: Any) -> Trueup:
    """Give a wardrobe both blocks, and styles of both once all darts are stated."""
    folder = tmp_path_factory.mktemp("stated")
    assert run("start", str(folder / "atelier"), "--unit", "mm").code == 0
    trueup = Trueup(folder / "atelier")
    trueup.made("draft", "drafted", "--system", BODICE.system, *BODICE.body.split())
    file, names = folder / "paper.svg", folder / "names.toml"
    file.write_bytes(drawn(draft_of(trueup, "drafted")))
    trueup.made("trace", str(file), "traced", "--write-names", str(names))
    names.write_text(without_darts(names.read_text("utf-8")), "utf-8")
    trueup.made("trace", str(file), "traced", "--names", str(names))
    assert all(piece.dart_names == () for piece in draft_of(trueup, "traced").pieces)
    assert trueup("check", "traced").code == 1
    trueup.made("derive", "traced-smock", "--from", "traced")
    for step in DARTS:
        answer = trueup.made("correct", "traced", *shlex.split(step), "--why", "a dart", "--json")
        assert [each["verdict"] for each in answer.document["patterns"]] == ["carried"], step
    for block in ("drafted", "traced"):
        for style, steps in BODICE.styles.items():
            trueup.made("derive", f"{block}-{style}", "--from", block)
            for step in steps:
                assert trueup("style", f"{block}-{style}", *shlex.split(step)).code in (0, 1)
    return trueup


def test_stated_later_they_are_the_darts_of_the_twin(two: Trueup) -> None:
    mine, theirs = draft_of(two, "drafted"), draft_of(two, "traced")
    assert measures(theirs) == pytest.approx(measures(mine), abs=0.01)
    for piece in mine.pieces:
        assert theirs.piece(piece.name).dart_names == piece.dart_names
    for node in ("traced", "traced-smock"):
        assert f"{node} is true" in two.made("check", node).out


@pytest.mark.parametrize("step", CORRECTIONS)
def test_a_correction_of_them_has_the_verdicts_of_the_twin(two: Trueup, step: str) -> None:
    own, amounts = told(two, "drafted", step)
    twin, traced = told(two, "traced", step)
    if isinstance(own, str):
        # What cannot be done on the one cannot be done on the other, for the same reason.
        assert "cannot be done" in own
        assert twin == own
        return
    smock = twin.pop("smock")
    assert (smock[0], smock[1]) == ("carried", [])
    assert twin == own
    traced = {place: both for place, both in traced.items() if place[0] != "smock"}
    assert traced.keys() == amounts.keys()
    for measure, both in amounts.items():
        assert traced[measure] == pytest.approx(both, abs=0.05), measure
