"""Fifteen garments of every sort: each is true, prints, and takes a correction of its block."""

from collections.abc import Iterable, Iterator
from pathlib import Path

import numpy as np
import pdfplumber
import pytest
import shapely

from tests.cli.conftest import run
from tests.fair import sampled
from tests.judging.judge import arrivals
from tests.judging.trying import wrong
from trueup.cli.demo.garments import BLOCKS, chapters, garment_tale
from trueup.cli.demo.in_memory import state_of
from trueup.cli.demo.playing import play
from trueup.geometry.errors import GeometryError
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.wardrobe import Wardrobe
from trueup.sample_wardrobe.examples import Corrected, corrected, examples, garment

GARMENTS = tuple(name for name in chapters() if name != BLOCKS)
EXAMPLES = examples()


@pytest.fixture(scope="module")
def wardrobe(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Wardrobe]:
    folder: Path = tmp_path_factory.mktemp("garments") / "open-air-stage"
    play(garment_tale(), folder)
    with Wardrobe.open(folder) as opened:
        yield opened


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
    done = run("-C", str(wardrobe.folder), "sheet", name, str(file), "--paper", "a0")
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


@pytest.mark.parametrize("kind", EXAMPLES)
def test_of_every_kind_the_verdicts_of_a_correction_beneath_it_are_so(kind: str) -> None:
    assert list(faults_of(corrected(EXAMPLES[kind]))) == []


@pytest.mark.parametrize("kind", EXAMPLES)
def test_the_change_and_then_a_correction_beneath_is_the_correction_and_then_the_change(
    kind: str,
) -> None:
    example = EXAMPLES[kind]
    for each in corrected(example):
        by_hand = each.after.start(example.node)
        for step in example.node.steps:
            try:
                by_hand = change_of(step, example.state.unit).apply(by_hand)
            except GeometryError:
                continue
        assert farthest(each.after.draft(example.node.name), by_hand) < 0.01


def faults_of(found: Iterable[Corrected]) -> Iterator[str]:
    """Yield what is told falsely, or not at all, of a correction."""
    for each in found:
        name = each.pattern.name
        own, here = (
            (each.before.draft(node), each.after.draft(node)) for node in (each.block, name)
        )
        come = tuple(arrivals(each.step.kind, each.step.values, own, here))
        told = f"{each.block} {each.step.kind} in {name}: {each.pattern.verdict.value}, {come}"
        yield from (
            f"{fault}: {told}" for fault in wrong(each.pattern, each.pattern.corrections[0], come)
        )
        left_out = {problem.step for problem in each.after.summary(name).problems}
        asked = {conflict.change for conflict in each.pattern.conflicts}
        yield from (f"step {step} was left out unasked: {told}" for step in left_out - asked)


def farthest(one: Draft, other: Draft) -> float:
    """Return how far any piece of a draft lies from the same of another, mm."""
    assert one.piece_names == other.piece_names
    return max(
        outline(piece).hausdorff_distance(outline(other.piece(piece.name))) for piece in one.pieces
    )


def outline(piece: Piece) -> shapely.LinearRing:
    points = np.concatenate([sampled(part) for edge in piece.edges for part in edge.parts])
    return shapely.LinearRing(np.column_stack([points.real, points.imag]))
