from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points
from tests.geometry.changes.skirts import PIECES, skirt, skirt_node, skirts
from tests.geometry.changes.tape_measure import sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from trueup.geometry.changes.cut_and_join.cut_gores import CutGores
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

COUNTS = st.integers(2, 4)


def gored(draft: Draft, front: int, back: int, **more: object) -> Draft:
    for piece, count in zip(PIECES, (front, back), strict=True):
        draft = change("cut-gores", piece=piece, gores=count, **more).apply(draft)
    return draft


def gores_of(draft: Draft, piece: str, count: int) -> list[Piece]:
    return [draft.piece(f"{piece}-gore-{k}") for k in range(1, count + 1)]


def sewn(draft: Draft, piece: str, count: int, edge: str) -> float:
    return sum(sewn_length(gore.edge(edge)) for gore in gores_of(draft, piece, count))


@given(skirts(), COUNTS, COUNTS)
@settings(max_examples=30, deadline=None)
def test_gores_have_one_width_at_the_hem_and_take_in_the_darts(
    before: Draft, front: int, back: int
) -> None:
    after = gored(before, front, back)
    assert_sound(after)
    assert check(after) == check(before)
    for piece, count in zip(PIECES, (front, back), strict=True):
        was, gores = before.piece(piece), gores_of(after, piece, count)
        hems = [sewn_length(gore.edge("hem")) for gore in gores]
        if piece == "skirt-front":
            assert gores[0].fold == "centre"
            hems[0] *= 2
        assert np.ptp(hems) < 0.05
        for edge in ("waist", "hem"):
            assert sewn(after, piece, count, edge) == pytest.approx(
                sewn_length(was.edge(edge)), abs=0.05
            )
        # No dart is left, and what it took in is taken in between the seams.
        assert not [name for gore in gores for name in gore.dart_names]
        assert sum(gore.cloth.area for gore in gores) == pytest.approx(was.cloth.area, rel=0.02)
        tops = [gore.edge("waist") for gore in gores]
        gaps = [min(abs(a - b) for a in _ends(one) for b in _ends(other))
                for one, other in pairwise(tops)]  # fmt: skip
        assert max(gaps) == pytest.approx(was.mouth("waist").intake, abs=4)
        for one, other in pairwise(gores):
            (line,) = {*one.edge_names} & {*other.edge_names} - {"waist", "hem"}
            lengths = [sewn_length(each.edge(line)) for each in (one, other)]
            assert lengths[0] == pytest.approx(lengths[1], abs=0.2)
        for edge in ("side", "centre"):
            gore = next(each for each in gores if edge in each.edge_names)
            apart = closed_points(gore.edge(edge)) - closed_points(was.edge(edge))
            assert np.abs(apart).max() < 1e-6


def _ends(edge: object) -> tuple[complex, complex]:
    return edge.start, edge.end  # type: ignore[attr-defined]


@given(skirts(), COUNTS, COUNTS, st.integers(10, 80))
@settings(max_examples=20, deadline=None)
def test_every_seam_of_it_is_flared_by_the_amount(
    before: Draft, front: int, back: int, flare: int
) -> None:
    plain, after = (gored(before, front, back, flare=f"{by}mm") for by in (0, flare))
    assert_sound(after)
    assert check(after) == check(before)
    for piece, count in zip(PIECES, (front, back), strict=True):
        gained = sewn(after, piece, count, "hem") - sewn(plain, piece, count, "hem")
        assert gained == pytest.approx(2 * flare * (count - 1), rel=0.05)
        assert sewn(after, piece, count, "waist") == pytest.approx(
            sewn(plain, piece, count, "waist")
        )
        for gore in gores_of(after, piece, count):
            for edge in gore.edges:
                if edge.name.startswith("gore-line"):
                    old = plain.edge(gore.name, edge.name)
                    assert sewn_length(edge) == pytest.approx(sewn_length(old), abs=0.02)


def test_a_dart_far_from_every_line_stays() -> None:
    after = change("cut-gores", piece="skirt-back", gores=2, near="0mm").apply(skirt())
    assert after.piece("skirt-back-gore-2").dart_names == ("waist",)
    assert check(after) == ()
    with refusing(CannotChange, match="come within 1 mm of .* a dart on it; choose another place"):
        CutGores(piece="skirt-back", gores=11.0, near=0.0).apply(skirt())


def test_what_is_told_of_the_whole_comes_to_flared_gores() -> None:
    after = gored(skirt(), 2, 3, flare="60mm")
    longer = change("lengthen", by="50mm").apply(after)
    assert check(longer) == ()
    for piece, count in zip(PIECES, (2, 3), strict=True):
        for was, now in zip(
            gores_of(after, piece, count), gores_of(longer, piece, count), strict=True
        ):
            for edge in now.edges:
                if edge.name not in ("waist", "hem"):
                    gained = sewn_length(edge) - sewn_length(was.edge(edge.name))
                    assert gained == pytest.approx(50, abs=3)
    eased = change("add-ease", by="20mm").apply(after)
    assert check(eased) == ()
    banded = change(
        "draft-band", to="skirt-back.waist skirt-front.waist", name="band", height="40mm"
    ).apply(after)
    assert check(banded) == ()


def test_a_quarter_of_a_circle_and_names_of_ones_own() -> None:
    body = {"waist": 720.0, "skirt-length": 600.0}
    before = draft_block("quarter-circle-skirt", body)
    told = change("cut-gores", piece="skirt-back", gores=2, parts="middle outside")
    after = told.apply(before)
    assert check(after) == check(before)
    hems = [sewn_length(after.edge(name, "hem")) for name in ("middle", "outside")]
    assert hems[0] == pytest.approx(hems[1], abs=0.05)
    assert "centre" in after.piece("middle").edge_names
    assert told.in_words(Unit.CENTIMETRE) == "cut the skirt-back into 2 gores (gore-line)"
    flared = change("cut-gores", piece="skirt-back", gores=3, flare="5cm", side="left")
    assert flared.in_words(Unit.CENTIMETRE) == (
        "cut the skirt-back into 3 gores, flared by 5 cm (gore-line) on the left"
    )
    left = flared.apply(skirt())
    assert "left-skirt-back-gore-3" in left.piece_names
    assert "right-skirt-back" in left.piece_names


def test_what_cannot_be_cut_into_gores_is_refused() -> None:
    with refusing(CannotChange, match="a line from the side to the hem would cut off a corner"):
        CutGores(piece="skirt-back", gores=2.0, begins="side").apply(skirt())
    with refusing(CannotChange, match="has no hip; say how far below the upper edge the flare b"):
        body = {"waist": 720.0, "skirt-length": 600.0}
        CutGores(piece="skirt-back", gores=2.0, flare=40.0).apply(
            draft_block("half-circle-skirt", body)
        )
    with refusing(CannotChange, match=r"the flare would begin only 5\d? mm above the hem"):
        CutGores(piece="skirt-back", gores=2.0, flare=80.0, below=550.0).apply(skirt())
    with refusing(BadParameter, match="it says where a flare begins, and none is asked for"):
        CutGores(piece="skirt-back", gores=2.0, below=300.0)
    with refusing(BadParameter, match="give 3 names, one a gore"):
        CutGores(piece="skirt-back", gores=3.0, parts="one other")
    with refusing(CannotChange, match="cut apart"):
        CutGores(piece="skirt-back", gores=2.0).apply(gored(skirt(), 2, 2))
    with refusing(CannotChange, match="through|cross"):
        CutGores(piece="front", gores=5.0, begins="shoulder").apply(block())


def test_corrections_of_the_block_arrive_in_every_gore() -> None:
    steps = [
        step(f"g{k}", "cut-gores", piece=piece, gores=2 + k, flare="50mm")
        for k, piece in enumerate(PIECES)
    ]
    bench = Bench(state(skirt_node(), child("gored", *steps, of="skirt")))
    core = skirt()
    for each in (change("lengthen", by="50mm"), change("taper-side", level="hip", by="-6mm")):
        found = bench.correct("skirt", each)
        assert pattern(found, "gored").verdict is Verdict.CARRIED
        core = each.apply(core)
    by_hand, replayed = gored(core, 2, 3, flare="50mm"), bench.evaluator.draft("gored")
    assert by_hand.piece_names == replayed.piece_names
    for piece in by_hand.pieces:
        assert largest_shift(piece, replayed.piece(piece.name)) < 0.01


def test_a_deeper_dart_is_taken_in_by_the_seam() -> None:
    steps = [step("g", "cut-gores", piece="skirt-back", gores=2)]
    bench = Bench(state(skirt_node(), child("gored", *steps, of="skirt")))
    found = bench.correct("skirt", change("deepen-dart", dart="skirt-back.waist", by="6mm"))
    assert pattern(found, "gored").verdict in (Verdict.CARRIED, Verdict.PARTLY)
    waist = sum(
        sewn_length(bench.evaluator.draft("gored").edge(f"skirt-back-gore-{k}", "waist"))
        for k in (1, 2)
    )
    assert waist == pytest.approx(sewn_length(skirt().edge("skirt-back", "waist")) - 6, abs=0.1)
