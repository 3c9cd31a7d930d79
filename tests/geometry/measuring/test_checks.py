import pickle
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.strategies import drafts
from trueup.geometry.errors import NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion
from trueup.geometry.measuring.checks import check, piece_findings
from trueup.geometry.measuring.finding import Finding
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.corner import corner_degrees, edges_at
from trueup.geometry.pieces.crossing import crossing
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.draft import Draft, Join
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import LEGS_EQUAL, SEAM, SMOOTH_JOIN_DEGREES


def ring(name: str, *points: complex) -> Piece:
    """Return a piece of straight edges called a, b, c ... from corner to corner."""
    closed = (*points, points[0])
    names = "abcdefgh"[: len(points)]
    return Piece(
        name,
        tuple(
            Edge(
                names[k],
                f"corner-{names[k]}",
                f"corner-{names[(k + 1) % len(names)]}",
                (Chain.line(closed[k], closed[k + 1]),),
            )
            for k in range(len(names))
        ),
    )


def square_with_dart(apex: complex, first: float = 45.0, second: float = 55.0) -> Piece:
    """Return a square of 100 mm with a dart called `dart` on its upper edge `a`."""
    square = ring("square", 0j, 100 + 0j, 100 + 100j, 100j)
    parts = (Chain.line(0j, complex(first)), Chain.line(complex(second), 100 + 0j))
    return square.with_edges(replace(square.edge("a"), parts=parts, darts=(Dart("dart", apex),)))


def only(findings: tuple[Finding, ...], code: str) -> Finding:
    (found,) = [finding for finding in findings if finding.code == code]
    return found


def turned(piece: Piece, motion: Motion) -> Piece:
    edges = tuple(
        replace(
            edge,
            parts=tuple(part.moved(motion) for part in edge.parts),
            darts=tuple(replace(dart, apex=motion(dart.apex)) for dart in edge.darts),
        )
        for edge in piece.edges
    )
    return replace(piece, edges=edges, notches=(), grainline=None, levels=())


class TestABlock:
    @given(drafts())
    @settings(max_examples=40)
    def test_a_drafted_block_is_true(self, draft):
        assert check(draft) == ()

    def test_a_sleeveless_block_is_true(self):
        assert check(block().only(["front", "back"])) == ()


class TestSeams:
    def without_ease(self) -> Draft:
        seam = block().seam("armhole-seam")
        return block().with_seam(replace(seam, allowed=Band(60.0, 80.0, SEAM)))

    def test_a_cap_too_small_for_its_armhole_is_found(self):
        found = only(check(self.without_ease()), "seam")
        ease = block().edge("sleeve", "cap").length - sum(
            block().edge(piece, "armhole").length for piece in ("front", "back")
        )
        assert (found.piece, found.edge, found.severity) == ("sleeve", "cap", "error")
        assert found.measured == pytest.approx(ease)
        assert (found.low, found.high) == (60.0, 80.0)
        assert found.excess == pytest.approx(60.0 - ease)
        assert found.edges == (("sleeve", "cap"), ("front", "armhole"), ("back", "armhole"))

    def test_its_message_names_both_lengths_the_ease_and_what_is_allowed(self):
        found = only(check(self.without_ease()), "seam")
        facts = found.says.facts
        assert facts["side_mm"] - facts["mate_mm"] == pytest.approx(facts["ease"], abs=0.02)
        assert (facts["side"], facts["mate"]) == ("sleeve.cap", "front.armhole + back.armhole")
        assert (facts["low"], facts["high"]) == (60.0, 80.0)

    def test_a_seam_that_should_be_even_says_which_side_is_longer(self):
        draft = block()
        front = draft.piece("front")
        longer = front.corner("hem-side") + 14j
        side = replace(front.edge("side"), parts=(front.edge("side").parts[0].ending_at(longer),))
        hem = front.edge("hem")
        parts = (hem.parts[0].starting_at(longer), *hem.parts[1:])
        uneven = draft.with_pieces(front.with_edges(side, replace(hem, parts=parts)))
        found = only(check(uneven), "seam")
        assert (found.piece, found.edge) == ("front", "side")
        assert found.excess == pytest.approx(14, abs=0.5)
        facts = found.says.facts
        assert (facts["longer"], facts["shorter"]) == ("front.side", "back.side")
        assert facts["by"] == pytest.approx(found.excess, abs=0.01)

    def test_within_tolerance_nothing_is_said(self):
        seam = block().seam("side-seam")
        assert check(block().with_seam(replace(seam, allowed=Band(1.5, 2.0, SEAM)))) == ()
        assert check(block().with_seam(replace(seam, allowed=Band(1.7, 2.0, SEAM)))) != ()


class TestDarts:
    def test_an_even_dart_inside_the_cloth_is_true(self):
        assert check(Draft((square_with_dart(50 + 80j, 48.0, 52.0),))) == ()

    def test_unequal_legs_are_found_by_their_difference(self):
        draft = Draft((square_with_dart(54 + 40j),))
        found = only(check(draft), "legs")
        first, second = draft.mouth("square.dart").legs
        assert (found.piece, found.edge) == ("square", "dart")
        assert found.measured == pytest.approx(abs(first - second))
        assert found.excess == pytest.approx(abs(first - second) - LEGS_EQUAL)

    @pytest.mark.parametrize(("off", "found"), [(0.08, False), (-0.08, False), (0.12, True)])
    def test_legs_may_differ_by_the_width_of_a_pencil_line_and_no_more(self, off, found):
        """A tenth of a millimetre, common practice, no source."""
        first, second = 45.0, 55.0
        apex = 50 + 40j
        apex += off / 2 / (5 / abs(apex - first))
        legs = abs(apex - first) - abs(apex - second)
        assert legs == pytest.approx(off, abs=1e-3)
        codes = [f.code for f in check(Draft((square_with_dart(apex, first, second),)))]
        assert ("legs" in codes) is found

    def test_an_edge_that_bends_where_its_dart_is_closed_is_found(self):
        """A dart on a straight edge closes to a corner of just its own angle."""
        draft = Draft((square_with_dart(50 + 40j, 40.0, 60.0),))
        found = only(check(draft), "dart-kink")
        assert found.edge == "dart"
        assert found.severity == "warning"
        assert found.measured == pytest.approx(2 * 14.036, abs=0.001)
        assert found.high == SMOOTH_JOIN_DEGREES

    def test_a_dart_that_points_out_of_the_cloth_is_found(self):
        found = only(check(Draft((square_with_dart(50 - 30j),))), "dart-outside")
        assert (found.piece, found.edge) == ("square", "dart")
        assert found.excess > 50

    @pytest.mark.parametrize(("x", "outside"), [(50, False), (97, True), (300, True)])
    def test_a_dart_inside_a_piece_stays_in_the_cloth(self, x, outside):
        middle = complex(x, 50)
        dart = InnerDart("fish", middle - 30j, middle + 30j, middle - 6, middle + 6)
        square = replace(ring("square", 0j, 100 + 0j, 100 + 100j, 100j), inner_darts=(dart,))
        assert [f.edge for f in check(Draft((square,)))] == (["fish"] if outside else [])


class TestOutline:
    bow = ring("bow", 0j, 100 + 0j, 20 + 100j, 80 + 100j)

    def test_an_outline_that_crosses_itself_is_found_where_it_does(self):
        found = only(check(Draft((self.bow,))), "outline")
        assert (found.piece, found.edge) == ("bow", "b")
        assert found.edges == (("bow", "b"), ("bow", "d"))

    def test_it_says_how_much_is_caught_in_the_loop(self):
        caught = crossing(self.bow)
        assert caught is not None
        assert caught.loop == pytest.approx(60 + 2 * abs(30 + 37.5j), abs=0.01)

    def test_a_dart_that_runs_through_the_other_side_crosses_it(self):
        found = only(check(Draft((square_with_dart(50 + 130j),))), "outline")
        assert found.edges == (("square", "a"), ("square", "c"))

    def test_a_simple_outline_has_no_crossing(self):
        assert crossing(ring("square", 0j, 100 + 0j, 100 + 100j, 100j)) is None


class TestCorners:
    @pytest.mark.parametrize("order", [1, -1])
    def test_the_angle_is_that_of_the_cloth_whichever_way_round(self, order):
        points = (0j, 100 + 0j, 100 + 100j, 30 + 30j)[::order]
        piece = ring("arrow", *points)
        angles = {edge.start: corner_degrees(piece, edge.starts_at) for edge in piece.edges}
        assert angles[100 + 0j] == pytest.approx(90)
        assert angles[100 + 100j] == pytest.approx(45)
        assert angles[30 + 30j] == pytest.approx(180)
        assert sum(angles.values()) == pytest.approx(360)

    def test_a_hollow_corner_has_more_than_a_straight_one(self):
        piece = ring("arrow", 0j, 100 + 0j, 100 + 100j, 60 + 30j)
        assert corner_degrees(piece, "corner-d") > 180

    def test_an_unknown_corner_is_refused_with_those_there_are(self):
        with pytest.raises(NoSuchName, match="corner-a"):
            corner_degrees(ring("three", 0j, 100 + 0j, 50j), "corner-z")

    def test_the_edges_at_a_corner_are_the_one_that_arrives_and_the_one_that_leaves(self):
        piece = ring("three", 0j, 100 + 0j, 50j)
        assert [edge.name for edge in edges_at(piece, "corner-a")] == ["c", "a"]

    @given(drafts(), st.floats(-3, 3))
    @settings(max_examples=20)
    def test_a_corner_keeps_its_angle_when_the_paper_is_turned(self, draft, radians):
        for piece in draft.pieces:
            moved = turned(piece, Motion.turn(30 + 200j, radians))
            for edge in piece.edges:
                assert corner_degrees(moved, edge.starts_at) == pytest.approx(
                    corner_degrees(piece, edge.starts_at), abs=1e-6
                )


class TestJoins:
    left = ring("left", 0j, 100 + 0j, 100 + 100j, 0 + 100j)

    def sewn(self, slope: float, degrees: float = 180.0) -> tuple[Finding, ...]:
        right = ring("right", 100 + 0j, complex(200, slope), 200 + 100j, 100 + 100j)
        at_top = Join("top", ("left", "a", "corner-b"), ("right", "a", "corner-a"), degrees)
        return check(Draft((self.left, right), (), (at_top,)))

    def test_a_line_that_runs_straight_on_is_smooth(self):
        assert self.sewn(0.0) == ()

    def test_a_line_that_turns_where_it_is_sewn_is_a_kink(self):
        found = only(self.sewn(20.0), "kink")
        assert (found.piece, found.edge, found.severity) == ("left", "a", "warning")
        assert found.measured == pytest.approx(180 - 11.31, abs=0.01)
        assert (found.low, found.high) == (176.0, 184.0)
        assert found.excess == pytest.approx(176 - 168.69, abs=0.01)

    def test_a_line_may_be_meant_to_turn(self):
        assert self.sewn(20.0, 168.7) == ()
        assert self.sewn(0.0, 168.7) != ()

    def test_two_kinks_of_one_edge_are_told_apart(self):
        joins = tuple(replace(join, degrees=160.0) for join in block().joins)
        found = check(replace(block(), joins=joins))
        assert len(found) == len(joins)
        assert len({finding.key for finding in found}) == len(joins)


class TestFindings:
    @given(st.floats(1, 40), st.floats(1, 40))
    def test_the_key_stays_when_the_amount_changes(self, one, other):
        keys = {
            finding.key
            for apex in (one, other)
            for finding in check(Draft((square_with_dart(complex(56 + apex, 40)),)))
            if finding.code == "legs"
        }
        assert keys == {("legs", "square", "dart")}

    @given(st.floats(0, 99), st.floats(-50, 150))
    @settings(max_examples=60)
    def test_every_finding_names_a_place_of_the_draft(self, x, y):
        draft = Draft((square_with_dart(complex(x, y)),))
        found = check(draft)
        for finding in found:
            piece = draft.piece(finding.piece)
            assert finding.edge in (*piece.edge_names, *piece.dart_names)
            assert all(draft.edge(*place) for place in finding.edges)
            assert finding.excess >= 0
            assert finding.says.facts
        assert len({finding.key for finding in found}) == len(found)

    def test_a_piece_that_is_shared_is_looked_at_once(self):
        check(block())
        misses = piece_findings.cache_info().misses
        check(replace(block(), seams=()))
        assert piece_findings.cache_info().misses == misses

    def test_findings_can_be_kept(self):
        found = check(Draft((square_with_dart(54 + 40j),)))
        assert pickle.loads(pickle.dumps(found)) == found
