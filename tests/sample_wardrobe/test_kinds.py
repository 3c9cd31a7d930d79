"""Every kind as a garment uses it: its verdicts, its page and its picture."""

import re
from collections.abc import Sequence
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.cli.drawing.legible import assert_legible
from tests.sample_wardrobe.judged import farthest, faults_of
from trueup.geometry.changes import kinds
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import StepRecord
from trueup.sample_wardrobe.examples import examples, met
from trueup.sample_wardrobe.kind_pages import FOLDER, INDEX, page, picture, table

EXAMPLES = examples()
BY_GARMENT = sorted(
    EXAMPLES, key=lambda kind: (EXAMPLES[kind].node.name, len(EXAMPLES[kind].node.steps))
)
"""Kinds of one garment one after the other: what it was before a step is at hand then."""
ANEW = "write them anew with python -m trueup.sample_wardrobe.kind_pages"


def test_every_kind_is_used_in_a_garment() -> None:
    assert set(kinds()) - set(EXAMPLES) == set()


def test_every_kind_has_a_page_and_a_picture_and_nothing_else_has() -> None:
    names = {Path(file).name for file in FOLDER.iterdir()}
    assert names == {INDEX, *(f"{kind}.{end}" for kind in EXAMPLES for end in ("md", "svg"))}, ANEW


@pytest.mark.parametrize("kind", BY_GARMENT)
def test_of_every_kind_the_verdicts_of_a_correction_beneath_it_are_so(kind: str) -> None:
    assert list(faults_of(met(kind))) == []


@pytest.mark.parametrize("kind", BY_GARMENT)
def test_the_change_and_then_a_correction_beneath_is_the_correction_and_then_the_change(
    kind: str,
) -> None:
    example = EXAMPLES[kind]
    for each in met(kind):
        made = by_hand(each.after.start(example.node), example.node.steps, example.state.unit)
        assert farthest(each.after.draft(example.node.name), made) < 0.01


_BY_HAND: dict[tuple[Draft, tuple[str, ...]], Draft] = {}


def by_hand(start: Draft, steps: Sequence[StepRecord], unit: Unit) -> Draft:
    """Return what steps come to, each change made of what the one before came to."""
    if not steps:
        return start
    told = start, tuple(step.id for step in steps)
    if told not in _BY_HAND:
        before = by_hand(start, steps[:-1], unit)
        try:
            _BY_HAND[told] = change_of(steps[-1], unit).apply(before)
        except GeometryError:
            _BY_HAND[told] = before
    return _BY_HAND[told]


@pytest.mark.parametrize("kind", BY_GARMENT)
def test_page_and_picture_are_as_the_program_makes_them_now(kind: str) -> None:
    written = (FOLDER / f"{kind}.md").read_text(encoding="utf-8")
    assert written == page(kind), ANEW
    drawn = (FOLDER / f"{kind}.svg").read_text(encoding="utf-8")
    assert numbers(drawn) == pytest.approx(numbers(picture(kind)), abs=0.05), ANEW


@pytest.mark.parametrize("kind", BY_GARMENT)
def test_its_picture_can_be_read(kind: str) -> None:
    assert_legible(ElementTree.parse(FOLDER / f"{kind}.svg").getroot())


def test_the_table_of_all_is_as_the_program_makes_it_now() -> None:
    assert (FOLDER / INDEX).read_text(encoding="utf-8") == table(), ANEW


def numbers(text: str) -> list[float]:
    return [float(number) for number in re.findall(r"-?\d+\.\d+", text)]
