"""Which lines of a draft need a seam and have none: no false alarm, and none that is overlooked."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.frozen.freeze import state_of as frozen_state
from tests.house.test_house import ROOT
from trueup.cli.demo.garments import garment_tale
from trueup.cli.demo.in_memory import state_of
from trueup.cli.demo.telling import sample_story
from trueup.geometry.changes import kind_named
from trueup.geometry.drafting import draft_block
from trueup.geometry.measuring.unstated import unsewn_lines, unsewn_pieces
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.lineage.evaluation.evaluate import Evaluator

SKIRT = {"waist": 640.0, "hip": 900.0, "hip-depth": 200.0, "skirt-length": 600.0}
SEWN = {
    "shoulder-seam": {"front.shoulder", "back.shoulder"},
    "side-seam": {"front.side", "back.side"},
    "armhole-seam": {"sleeve.cap", "front.armhole", "back.armhole"},
    "sleeve-seam": {"sleeve.front-seam", "sleeve.back-seam"},
}


def changed(draft: Draft, kind: str, **values: object) -> Draft:
    return kind_named(kind)(**values).apply(draft)


def without(draft: Draft, *seams: str) -> Draft:
    return replace(draft, seams=tuple(each for each in draft.seams if each.name not in seams))


@pytest.mark.parametrize("folder", ["format-1", "format-2"])
def test_of_no_frozen_pattern_a_line_is_told_of(folder: str) -> None:
    evaluator = Evaluator(frozen_state(ROOT / "tests" / "frozen" / folder))
    found = {name: told(evaluator.draft(name)) for name in evaluator.state.in_order}
    assert {name: each for name, each in found.items() if each and name != "left-free"} == {}


@pytest.mark.parametrize("tale", [garment_tale, sample_story])
def test_of_no_garment_of_the_sample_wardrobe_a_line_is_told_of(tale: object) -> None:
    evaluator = Evaluator(state_of(tale()))  # type: ignore[operator]
    found = {name: told(evaluator.draft(name)) for name in evaluator.state.in_order}
    assert {name: each for name, each in found.items() if each} == {}


def told(draft: Draft) -> tuple[str, ...]:
    return (*unsewn_pieces(draft), *unsewn_lines(draft))


@given(st.sets(st.sampled_from(sorted(SEWN)), min_size=1))
@settings(max_examples=16, deadline=None)
def test_the_lines_of_every_seam_that_is_not_stated_are_told_of(gone: set[str]) -> None:
    draft = without(block(), *gone)
    lines = {line for seam in gone for line in SEWN[seam]}
    loose = {"sleeve"} if {"armhole-seam", "sleeve-seam"} <= gone else set()
    loose |= {
        piece
        for piece in ("front", "back")
        if {"shoulder-seam", "side-seam", "armhole-seam"} <= gone
    }
    assert {*unsewn_pieces(draft)} == loose
    assert {*unsewn_lines(draft)} == {line for line in lines if line.partition(".")[0] not in loose}


def test_a_fold_an_opening_and_an_armhole_without_a_sleeve_need_no_seam() -> None:
    assert told(block()) == ()
    assert told(changed(block(), "open-front", piece="front", extension=20.0)) == ()
    assert told(changed(block(), "drop-piece", piece="sleeve")) == ()
    assert told(draft_block("straight-skirt", SKIRT)) == ()


def test_a_line_of_a_piece_that_was_cut_is_told_of_once_by_the_whole() -> None:
    princess = {"piece": "front", "begins": "armhole", "ends": "hem",
                "through": "bust waist", "line": "princess"}  # fmt: skip
    cut = changed(without(block(), "side-seam", "armhole-seam"), "cut-apart", **princess)
    assert {*unsewn_lines(cut)} == {
        "front.armhole", "front.side", "back.armhole", "back.side", "sleeve.cap",
    }  # fmt: skip


def test_a_line_that_is_sewn_on_neither_side_of_the_body_is_told_of_once() -> None:
    parted = changed(
        without(block(), "side-seam"), "lower-neck", piece="front", by=5.0, side="left"
    )
    assert parted.is_parted
    assert {*unsewn_lines(parted)} == {"front.side", "back.side"}


def test_a_line_that_is_sewn_on_one_side_of_the_body_is_told_of_on_the_other() -> None:
    parted = changed(block(), "unpick", seam="side-seam", side="left")
    assert {*unsewn_lines(parted)} == {"left-front.side", "left-back.side"}


def test_what_binds_a_slit_is_sewn_along_it() -> None:
    slit = changed(
        block(),
        "mark-slit",
        edge="sleeve.hem",
        at=Position("hem-back", distance=60.0),
        deep=90.0,
        binding=30.0,
    )
    assert told(slit) == ()
