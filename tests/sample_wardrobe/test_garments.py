"""Garments of every sort: each is true, prints, and takes a correction of its block."""

from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

import pdfplumber
import pytest

from tests.cli.conftest import run
from tests.sample_wardrobe.judged import faults_of
from trueup.cli.demo.garments import BLOCKS, chapters, garment_tale
from trueup.cli.demo.in_memory import state_of
from trueup.cli.demo.playing import play
from trueup.geometry.measuring.checks import check
from trueup.lineage.wardrobe import Wardrobe
from trueup.sample_wardrobe.examples import corrected, garment

GARMENTS = tuple(name for name in chapters() if name != BLOCKS)


@pytest.fixture(scope="module")
def wardrobe(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Wardrobe]:
    folder: Path = tmp_path_factory.mktemp("garments") / "open-air-stage"
    play(garment_tale(), folder)
    with Wardrobe.open(folder) as opened:
        yield opened


def test_there_are_fifteen_at_the_least_and_the_readme_tells_of_each() -> None:
    told = (files("trueup.sample_wardrobe") / "garments" / "README.md").read_text(encoding="utf-8")
    assert len(GARMENTS) >= 15
    assert [name for name in GARMENTS if f"[{name}]({name}.toml)" not in told] == []


def test_played_in_memory_it_is_what_the_wardrobe_records(wardrobe: Wardrobe) -> None:
    recorded, imagined = wardrobe.state.nodes, state_of(garment_tale()).nodes
    assert set(recorded) == set(imagined)
    for name, node in recorded.items():
        steps = [(step.kind, step.version, step.values) for step in node.steps]
        assert steps == [(s.kind, s.version, s.values) for s in imagined[name].steps]


@pytest.mark.parametrize("name", GARMENTS)
def test_it_is_true_and_nothing_waits(wardrobe: Wardrobe, name: str) -> None:
    assert wardrobe.evaluator.summary(name).problems == ()
    assert check(wardrobe.evaluator.draft(name)) == ()
    assert wardrobe.state.node(name).open_conflicts == ()


@pytest.mark.parametrize("name", GARMENTS)
def test_it_prints_with_every_piece(wardrobe: Wardrobe, name: str, tmp_path: Path) -> None:
    file = tmp_path / f"{name}.pdf"
    done = run("-C", str(wardrobe.folder), "sheet", name, str(file), "--paper", "91.4cm")
    assert (done.code, done.err) == (0, "")
    with pdfplumber.open(file) as pdf:
        printed = " ".join(page.extract_text() for page in pdf.pages)
    assert [
        each for each in wardrobe.evaluator.draft(name).piece_names if each not in printed
    ] == []


@pytest.mark.parametrize("name", GARMENTS)
def test_it_takes_every_correction_of_its_block_with_a_verdict_that_is_so(name: str) -> None:
    found = list(corrected(garment(name)))
    assert found
    assert list(faults_of(found)) == []
