"""The cut list: areas, counts, and how long the cloth has to be."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.refusals import refusing
from trueup.cli.failures import Misused
from trueup.cli.sheet.cut_list import cut_list
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Piece


def rectangle(name: str, width: float, height: float, fold: bool = False) -> Piece:
    """Return a piece with straight edges, its fold (where it has one) on the right."""
    corners = [0j, complex(width, 0), complex(width, height), complex(0, height)]
    names = ["top", "centre", "hem", "side"]
    edges = tuple(
        Edge(edge, f"c{n}", f"c{(n + 1) % 4}", (Chain.line(corners[n], corners[(n + 1) % 4]),))
        for n, edge in enumerate(names)
    )
    grain = Grainline(complex(width / 2, 10), complex(width / 2, height - 10))
    return Piece(name, edges, grainline=grain, fold="centre" if fold else None)


FRONT = rectangle("front", 200, 500, fold=True)
SLEEVE = rectangle("sleeve", 300, 400)


def test_a_piece_on_the_fold_is_counted_opened_out_and_others_twice() -> None:
    front, sleeve = cut_list(Draft((FRONT, SLEEVE))).pieces
    assert (front.count, front.area, front.whole_area) == (1, 200_000, 200_000)
    assert (sleeve.count, sleeve.area, sleeve.whole_area) == (2, 120_000, 240_000)
    assert cut_list(Draft((FRONT, SLEEVE))).whole_area == 440_000


def test_allowances_are_part_of_the_area() -> None:
    wider = allowed(SLEEVE, dict.fromkeys(SLEEVE.edge_names, 10.0))
    (piece,) = cut_list(Draft((wider,))).pieces
    assert piece.area == pytest.approx(320 * 420)
    assert piece.allowances == "allowances included"


def test_two_layers_take_a_pair_once_and_one_layer_twice() -> None:
    folded, opened = cut_list(Draft((SLEEVE,)), 620).estimates
    assert (folded.layers, folded.length) == (2, 400)
    assert (opened.layers, opened.length) == (1, 400)
    (only,) = cut_list(Draft((SLEEVE,)), 400).estimates
    assert (only.layers, only.length) == (1, 810)


def test_the_fold_of_the_piece_lies_on_the_fold_of_the_cloth() -> None:
    folded, opened = cut_list(Draft((FRONT, SLEEVE)), 1020).estimates
    assert (folded.layers, folded.length) == (2, 500)  # 200 and 10 and 300 of 510 mm
    assert (opened.layers, opened.length) == (1, 500)  # 400 and twice 10 and 300 of 1020 mm


def test_two_fold_pieces_cannot_lie_beside_each_other_on_one_fold() -> None:
    back = replace(FRONT, name="back")
    folded, _ = cut_list(Draft((FRONT, back)), 2000).estimates
    assert folded.length == 1010


def test_cloth_too_narrow_for_a_piece_is_refused() -> None:
    with refusing(Misused, match="There is no room for front: it is 400 mm wide"):
        cut_list(Draft((FRONT,)), 390)
    with refusing(Misused, match="of no width"):
        cut_list(Draft((FRONT,)), 0)


@settings(max_examples=30)
@given(st.floats(1200, 2000))
def test_the_cloth_is_never_less_than_what_is_cut_from_it(width: float) -> None:
    found = cut_list(block(), width)
    for each in found.estimates:
        assert each.length * width >= found.whole_area
