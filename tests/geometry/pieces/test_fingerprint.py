import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.checkout import IMPORTS
from tests.strategies import drafts
from trueup.geometry.changes.armhole.scoop_armhole import ScoopArmhole
from trueup.geometry.errors import NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.fingerprint import fingerprint, piece_fingerprint, shape_of
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece
from trueup.geometry.pieces.position import Position

ROOT_TWO = 2**0.5


def panel(end: complex = 100 + 0j) -> Piece:
    """Return a triangle with one of everything on it."""
    upper = Edge(
        "upper",
        "left",
        "right",
        (Chain.line(0j, 40 + 0j), Chain.line(50 + 0j, end)),
        (Dart("dart", 45 + 30j, 5.0),),
    )
    return Piece(
        "panel",
        (
            upper,
            Edge("side", "right", "below", (Chain.line(end, 50 + 90j),)),
            Edge("rest", "below", "left", (Chain.line(50 + 90j, 0j),)),
        ),
        (InnerDart("fish", 50 + 40j, 50 + 70j, 48 + 55j, 52 + 55j),),
        (Notch("half", "side", Position("right", share=0.5)),),
        Grainline(50 + 10j, 50 + 80j),
        "rest",
        (Level("hip", 60.0),),
    )


def turned(draft: Draft, motion: Motion) -> Draft:
    """Return the draft with each piece turned bodily, its edges and darts only."""
    return draft.with_pieces(
        *(
            replace(
                piece,
                edges=tuple(
                    replace(
                        edge,
                        parts=tuple(part.moved(motion) for part in edge.parts),
                        darts=tuple(replace(d, apex=motion(d.apex)) for d in edge.darts),
                    )
                    for edge in piece.edges
                ),
            )
            for piece in draft.pieces
        )
    )


def mirrored(piece: Piece) -> Piece:
    """Return the piece face down, its edges travelled the same way."""

    def flipped(chain: Chain) -> Chain:
        return Chain(tuple(type(c)(*(p.conjugate() for p in c)) for c in chain.cubics))

    return replace(
        piece,
        edges=tuple(
            replace(
                edge,
                parts=tuple(flipped(part) for part in edge.parts),
                darts=tuple(replace(d, apex=d.apex.conjugate()) for d in edge.darts),
            )
            for edge in piece.edges
        ),
    )


class TestFingerprint:
    def test_it_is_a_sha256_in_hexadecimal_digits(self):
        assert len(fingerprint(block())) == 64
        assert set(fingerprint(block())) <= set("0123456789abcdef")

    def test_another_process_gives_the_same(self):
        code = (
            "from tests.builders import block; "
            "from trueup.geometry.pieces.fingerprint import fingerprint; "
        )
        for seed in ("1", "2"):
            done = subprocess.run(
                [sys.executable, "-c", code + "print(fingerprint(block()))"],
                capture_output=True,
                text=True,
                check=True,
                env={"PYTHONHASHSEED": seed, "PYTHONPATH": IMPORTS},
            )
            assert done.stdout.strip() == fingerprint(block())

    def test_it_does_not_depend_on_the_order_of_pieces_seams_and_joins(self):
        draft = block()
        shuffled = replace(
            draft, pieces=draft.pieces[::-1], seams=draft.seams[::-1], joins=draft.joins[::-1]
        )
        assert fingerprint(shuffled) == fingerprint(draft)

    def test_it_does_not_depend_on_which_objects_hold_the_content(self):
        assert panel() is not panel()
        assert piece_fingerprint(panel()) == piece_fingerprint(panel())

    def test_minus_nought_is_nought(self):
        piece = panel()
        minus = replace(piece, levels=(Level("hip", -0.0),), grainline=Grainline(-0j, 50 + 80j))
        plus = replace(piece, levels=(Level("hip", 0.0),), grainline=Grainline(0j, 50 + 80j))
        assert piece_fingerprint(minus) == piece_fingerprint(plus)

    @pytest.mark.parametrize("noise", [1e-9, -1e-9, 1e-9j, -1e-9j])
    @pytest.mark.parametrize("end", [100, 1.5875, 100.000005, 25.4 / 64])
    def test_rounding_noise_does_not_show(self, noise, end):
        assert piece_fingerprint(panel(end + 60)) == piece_fingerprint(panel(end + 60 + noise))

    @pytest.mark.parametrize(
        "changed",
        [
            panel(100.001 + 0j),
            replace(panel(), name="other"),
            replace(panel(), fold=None),
            replace(panel(), notches=()),
            replace(panel(), notches=(Notch("half", "side", Position("right", share=0.51)),)),
            replace(panel(), notches=(Notch("half", "side", Position("right", distance=0.5)),)),
            replace(panel(), notches=(Notch("half", "side", Position("below", share=0.5)),)),
            replace(panel(), levels=(Level("hip", 60.1),)),
            replace(panel(), levels=(Level("hip", 60.0, "side"),)),
            replace(panel(), grainline=None),
            replace(panel(), inner_darts=()),
            panel().with_edges(
                replace(panel().edge("upper"), darts=(Dart("dart", 45 + 30j, 6.0),))
            ),
            panel().with_edges(
                replace(panel().edge("upper"), darts=(Dart("tuck", 45 + 30j, 5.0),))
            ),
            panel().with_edges(
                replace(panel().edge("upper"), darts=(Dart("dart", 45 + 31j, 5.0),))
            ),
            panel().with_edges(
                replace(panel().edge("upper"), darts=(Dart("dart", 45 + 30j, 5.0, turned=True),))
            ),
            replace(
                panel(),
                edges=(
                    panel().edge("upper"),
                    replace(panel().edge("side"), name="seam"),
                    panel().edge("rest"),
                ),
            ),
            replace(panel(), notches=(Notch("third", "side", Position("right", share=0.5)),)),
            replace(panel(), levels=(Level("waist", 60.0),)),
            replace(panel(), allowances=(("side", 10.0),)),
            replace(
                panel(), inner_darts=(InnerDart("tuck", 50 + 40j, 50 + 70j, 48 + 55j, 52 + 55j),)
            ),
        ],
    )
    def test_whatever_a_piece_holds_shows(self, changed):
        assert piece_fingerprint(changed) != piece_fingerprint(panel())

    def test_seams_and_joins_show(self):
        draft = block()
        seam = draft.seam("armhole-seam")
        assert fingerprint(
            draft.with_seam(
                replace(seam, allowed=seam.allowed.moved(0.0, 80.0 - seam.allowed.high))
            )
        ) != fingerprint(draft)
        assert fingerprint(replace(draft, joins=draft.joins[1:])) != fingerprint(draft)
        assert fingerprint(draft.only(["front", "back"])) != fingerprint(draft)

    @given(drafts(), drafts())
    @settings(max_examples=30)
    def test_only_the_same_body_has_the_same_fingerprint(self, one, other):
        assert (fingerprint(one) == fingerprint(other)) == (one == other)


class TestShape:
    @given(drafts(), st.floats(-3, 3), st.floats(-500, 500))
    @settings(max_examples=30)
    def test_turning_a_piece_bodily_keeps_every_shape(self, draft, radians, across):
        moved = turned(draft, Motion(1, 37.5 - 12.25j).after(Motion.turn(across + 0j, radians)))
        for piece in draft.pieces:
            for edge in piece.edge_names:
                assert shape_of(moved.piece(piece.name), edge) == shape_of(piece, edge)

    def test_a_mirror_image_has_another_shape(self):
        front = block().piece("front")
        assert shape_of(mirrored(front), "neck") != shape_of(front, "neck")

    def test_a_straight_edge_has_no_side_to_mirror(self):
        front = block().piece("front")
        assert shape_of(mirrored(front), "centre") == shape_of(front, "centre")

    def test_hollowing_an_armhole_shapes_the_armhole_and_nothing_else(self):
        before = block().piece("front")
        after = ScoopArmhole(piece="front", by=10.0).apply(block()).piece("front")
        changed = [e for e in before.edge_names if shape_of(after, e) != shape_of(before, e)]
        assert changed == ["armhole"]

    @pytest.mark.parametrize(
        "changed",
        [
            Dart("tuck", 45 + 30j, 5.0),
            Dart("dart", 45 + 40j, 5.0),
        ],
    )
    def test_a_dart_is_told_by_its_name_and_by_what_closing_it_does(self, changed):
        edge = replace(panel().edge("upper"), darts=(changed,))
        assert shape_of(panel().with_edges(edge), "upper") != shape_of(panel(), "upper")

    def test_where_on_its_line_a_dart_opens_shapes_the_edge(self):
        """Sewn, the two are one line, drawn of the same curves, with the same intake."""

        line = Chain.line(0j, 40 + 0j, 50 + 0j, 90 + 0j)

        def opened(cubics: int) -> Piece:
            """Return a triangle whose straight edge is opened by a dart after so many curves."""
            left, right = Chain(line.cubics[:cubics]), Chain(line.cubics[cubics:])
            apex = left.end + 30j
            right = right.moved(Motion.turn(apex, 0.2))
            upper = Edge("upper", "left", "right", (left, right), (Dart("dart", apex),))
            side = Edge("side", "right", "below", (Chain.line(right.end, 50 + 90j),))
            rest = Edge("rest", "below", "left", (Chain.line(50 + 90j, 0j),))
            return Piece("panel", (upper, side, rest))

        one, other = opened(1), opened(2)
        for piece in (one, other):
            sewn = closed(piece.edge("upper")).chain
            ends = [cubic.end for cubic in sewn.cubics]
            assert ends == pytest.approx([cubic.end for cubic in line.cubics])
        assert shape_of(one, "upper") != shape_of(other, "upper")

    def test_how_far_a_dart_is_sewn_does_not_shape_the_edge(self):
        edge = replace(panel().edge("upper"), darts=(Dart("dart", 45 + 30j, 9.0),))
        assert shape_of(panel().with_edges(edge), "upper") == shape_of(panel(), "upper")

    @pytest.mark.parametrize("sixteenths", range(1, 17))
    def test_lengths_in_sixteenths_of_an_inch_do_not_lie_between_two_lines_of_the_grid(
        self, sixteenths
    ):
        end = 60 + sixteenths * 1.5875
        moved = turned(Draft((panel(end + 0j),)), Motion.turn(13 - 7j, ROOT_TWO)).piece("panel")
        assert shape_of(moved, "upper") == shape_of(panel(end + 0j), "upper")

    def test_an_edge_that_ends_where_it_starts_has_a_shape(self):
        loop = Piece("collar", (Edge("rim", "seam", "seam", (Chain.line(0j, 9 + 0j, 9j, 0j),)),))
        moved = turned(Draft((loop,)), Motion.turn(1 + 1j, 1.0)).piece("collar")
        assert shape_of(moved, "rim") == shape_of(loop, "rim")

    def test_an_unknown_edge_is_refused(self):
        with pytest.raises(NoSuchName):
            shape_of(panel(), "armhole")
