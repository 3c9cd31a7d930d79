import math
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.curves import MOTIONS, NASTY, POINTS, chains, smooth_chains
from tests.refusals import refusing
from trueup.geometry.errors import BrokenOutline
from trueup.geometry.limits import MOST_CURVES
from trueup.geometry.lines import fade
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import degrees_between, dot
from trueup.geometry.tolerance import SAME_POINT

SHARES = st.floats(0.02, 0.98)
SQUARE = Chain.line(0j, 100 + 0j, 100 + 50j)
POINT = Cubic.line(0j, 0j)


def kinks(chain: Chain) -> list[float]:
    return [
        degrees_between(before.tangent(1.0), after.tangent(0.0))
        for before, after in pairwise(chain.cubics)
    ]


class TestWhatALineIs:
    def test_a_line_without_curves_is_refused(self):
        with refusing(BrokenOutline, match="at least one"):
            Chain(())

    def test_a_line_with_a_gap_is_refused(self):
        with refusing(BrokenOutline, match="gap"):
            Chain((Cubic.line(0j, 1 + 0j), Cubic.line(2 + 0j, 3 + 0j)))

    @given(smooth_chains(), SHARES)
    def test_a_place_is_a_point_and_the_direction_there(self, chain: Chain, share: float):
        at = share * chain.length
        assert chain.place_at(at) == (chain.point_at(at), chain.tangent_at(at))

    def test_places_on_a_line_are_found_by_length(self):
        assert SQUARE.length == 150
        assert SQUARE.point_at(120) == pytest.approx(100 + 20j)
        assert SQUARE.tangent_at(120) == pytest.approx(1j)
        assert SQUARE.normal_at(50) == pytest.approx(1j)

    def test_lengths_beyond_the_ends_are_clamped(self):
        assert SQUARE.point_at(-5) == 0j
        assert SQUARE.point_at(500) == 100 + 50j


class TestCurvesOfNoLength:
    line = Chain((POINT, Cubic.line(0j, 30j), Cubic.line(30j, 30j)))

    def test_they_add_nothing(self):
        assert self.line.length == 30
        assert self.line.point_at(10) == pytest.approx(10j)

    def test_they_do_not_tell_the_direction(self):
        assert self.line.start_tangent == pytest.approx(1j)
        assert self.line.end_tangent == pytest.approx(1j)
        assert self.line.tangent_at(0.0) == pytest.approx(1j)
        assert self.line.tangent_at(30.0) == pytest.approx(1j)

    def test_a_line_of_nothing_else_does_no_harm(self):
        nothing = Chain((POINT, POINT))
        assert nothing.length == 0
        assert nothing.point_at(3) == 0j
        assert nothing.nearest(5j) == 0
        assert nothing.crossings(0j, 1 + 0j) == []
        assert not nothing.crosses_itself
        with pytest.raises(BrokenOutline):
            nothing.split_at(0.0)
        with pytest.raises(BrokenOutline):
            nothing.fitted_between(0j, 1 + 0j)


class TestSplitting:
    @given(chains(), SHARES)
    @settings(max_examples=60)
    def test_the_parts_add_up(self, chain, share):
        assume(chain.length > 1)
        wanted = share * chain.length
        before, after = chain.split_at(wanted)
        assert before.length == pytest.approx(wanted, abs=1e-6)
        assert after.length == pytest.approx(chain.length - wanted, abs=1e-6)
        assert before.end == after.start

    @pytest.mark.parametrize("length", [-1.0, 0.0, 150.0, 151.0, math.nan, math.inf])
    def test_only_inside_can_a_line_be_split(self, length):
        with refusing(BrokenOutline, match="cannot be split"):
            SQUARE.split_at(length)

    @pytest.mark.parametrize("noise", [-1e-9, 0.0, 1e-9])
    def test_splitting_at_a_join_leaves_no_crumb(self, noise):
        before, after = SQUARE.split_at(100.0 + noise)
        assert len(before.cubics) == len(after.cubics) == 1

    @given(chains(), SHARES, SHARES)
    @settings(max_examples=40)
    def test_the_part_between_is_as_long_as_asked(self, chain, one, other):
        low, high = sorted((one * chain.length, other * chain.length))
        assume(high - low > 0.01)
        assert chain.between(low, high).length == pytest.approx(high - low, abs=1e-6)

    def test_between_the_ends_is_the_whole(self):
        assert SQUARE.between(-1.0, 500.0) is SQUARE

    @given(chains(), st.lists(SHARES, max_size=5))
    @settings(max_examples=40)
    def test_joins_added_change_nothing(self, chain, shares):
        assume(chain.length > 1)
        cut = chain.cut_at([share * chain.length for share in shares])
        assert len(cut.cubics) >= len(chain.cubics)
        assert cut.length == pytest.approx(chain.length, abs=1e-6)
        assert cut.swept_area == pytest.approx(chain.swept_area, abs=1e-4)


class TestMoving:
    @given(chains(), MOTIONS)
    @settings(max_examples=40)
    def test_a_moved_line_keeps_its_lengths(self, chain, motion):
        moved = chain.moved(motion)
        assert moved.length == pytest.approx(chain.length, abs=1e-6)
        assert abs(moved.end - motion(chain.end)) < 1e-8

    @given(chains(), SHARES)
    @settings(max_examples=40)
    def test_a_line_travelled_backwards_is_the_same_line(self, chain, share):
        assume(chain.length > 1)
        back = chain.reversed()
        assert back.length == pytest.approx(chain.length, abs=1e-7)
        assert back.reversed() == chain
        place = share * chain.length
        assert abs(back.point_at(chain.length - place) - chain.point_at(place)) < 1e-3

    @given(smooth_chains(), POINTS, POINTS)
    @settings(max_examples=40)
    def test_a_fitted_line_is_its_likeness_between_the_new_ends(self, chain, start, end):
        assume(abs(end - start) > 1)
        fitted = chain.fitted_between(start, end)
        assert (fitted.start, fitted.end) == (start, end)
        scale = abs(end - start) / abs(chain.end - chain.start)
        assert fitted.length == pytest.approx(chain.length * scale, rel=1e-6)
        assert kinks(fitted) == pytest.approx(kinks(chain), abs=1e-5)

    def test_a_closed_line_cannot_be_fitted(self):
        with refusing(BrokenOutline, match="ends where it starts"):
            Chain.line(0j, 10 + 0j, 10j, 0j).fitted_between(0j, 5 + 0j)

    def test_an_end_is_put_exactly_on_a_point(self):
        assert SQUARE.ending_at(100 + 50.0000001j).end == 100 + 50.0000001j
        assert SQUARE.starting_at(1e-7 + 0j).start == 1e-7 + 0j
        assert SQUARE.starting_at(0j) is SQUARE


class TestJoining:
    def test_rounding_noise_is_closed(self):
        joined = Chain.joining([Chain.line(0j, 10 + 0j), Chain.line(10 + 1e-7j, 20 + 0j)])
        assert joined.length == pytest.approx(20)

    def test_a_real_gap_is_refused(self):
        with refusing(BrokenOutline, match="gap"):
            Chain.joining([Chain.line(0j, 10 + 0j), Chain.line(10 + 1j, 20 + 0j)])


class TestShifting:
    @given(smooth_chains(), POINTS, SHARES)
    @settings(max_examples=60)
    def test_a_smooth_line_stays_smooth_under_a_fading_shift(self, chain, towards, share):
        assume(abs(towards) > 1)
        direction = towards / abs(towards) * 8
        cut = chain.cut_at([chain.length * k / 8 for k in range(1, 8)])
        weight = fade.swelling(0.0, share * cut.length, cut.length)
        shifted = fade.shifted(cut, direction, weight)
        assert max(kinks(shifted), default=0.0) < 0.01

    @given(smooth_chains(), SHARES)
    @settings(max_examples=40)
    def test_a_swelling_shift_leaves_the_ends_and_moves_its_peak(self, chain, share):
        peak = share * chain.length
        assume(0.1 < peak < chain.length - 0.1)
        shifted = fade.shifted(chain.cut_at([peak]), 12j, fade.swelling(0.0, peak, chain.length))
        assert (shifted.start, shifted.end) == (chain.start, chain.end)
        wanted = chain.point_at(peak) + 12j
        assert abs(shifted.point_at(shifted.nearest(wanted)) - wanted) < 1e-6

    @given(smooth_chains(), POINTS)
    @settings(max_examples=40)
    def test_a_whole_shift_moves_the_line_bodily(self, chain, by):
        shifted = fade.shifted(chain, by, lambda _: (1.0, 0.0))
        assert shifted.length == pytest.approx(chain.length, abs=1e-6)
        assert abs(shifted.end - chain.end - by) < 1e-9


class TestMeeting:
    @given(chains(), POINTS)
    @settings(max_examples=40)
    def test_nothing_is_nearer_than_the_nearest(self, chain, point):
        assume(chain.length > 1)
        found = abs(chain.point_at(chain.nearest(point)) - point)
        for k in range(101):
            assert found <= abs(chain.point_at(chain.length * k / 100) - point) + 1e-4

    def test_the_nearest_is_found_from_beyond_the_middle_of_a_bend(self):
        bowl = Chain((Cubic(0j, 0 + 60j, 100 + 60j, 100 + 0j),))
        assert bowl.nearest(50 - 300j) in (0.0, pytest.approx(bowl.length))
        assert bowl.nearest(50 + 300j) == pytest.approx(bowl.length / 2, abs=1e-3)

    def test_a_line_through_a_join_is_met_once(self):
        assert SQUARE.crossings(100 + 0j, 1 + 1j) == pytest.approx([100.0])

    @given(smooth_chains(), SHARES)
    @settings(max_examples=40)
    def test_a_place_is_met_by_the_upright_through_it(self, chain, share):
        place = share * chain.length
        point = chain.point_at(place)
        assume(abs(dot(chain.tangent_at(place), 1 + 0j)) > 0.2)
        assert any(abs(met - place) < 1e-3 for met in chain.crossings(point, 1j))

    @given(chains(), st.floats(0.01, 1))
    @settings(max_examples=40)
    def test_a_flattened_line_is_hardly_shorter(self, chain, tolerance):
        points = chain.flattened(tolerance)
        assert points[0] == chain.start
        assert points[-1] == chain.end
        polyline = sum(abs(b - a) for a, b in pairwise(points))
        assert polyline <= chain.length + 1e-6

    def test_only_a_loop_crosses_itself(self):
        assert Chain((NASTY["loop"],)).crosses_itself
        assert not SQUARE.crosses_itself


class TestSmoothJoin:
    @pytest.mark.parametrize("degrees", [10, 45, 90])
    def test_equal_turns_give_an_arc_of_a_circle(self, degrees):
        turn = math.radians(degrees)
        end = 100 * complex(math.sin(turn), 1 - math.cos(turn))
        arc = smooth_join(0j, 1 + 0j, end, complex(math.cos(turn), math.sin(turn)))
        assert arc.length == pytest.approx(100 * turn, rel=3e-4)
        centre = 100j
        assert abs(arc.point_at(arc.length / 3) - centre) == pytest.approx(100, rel=3e-4)

    def test_a_point_cannot_be_joined_to_itself(self):
        with refusing(BrokenOutline, match="to itself"):
            smooth_join(5j, 1 + 0j, 5j, 1j)

    @given(POINTS, POINTS, st.floats(-1.5, 1.5), st.floats(-1.5, 1.5))
    def test_it_sets_out_and_arrives_as_asked(self, start, end, leaving, arriving):
        assume(abs(end - start) > 1)
        chord = (end - start) / abs(end - start)
        out, home = (chord * complex(math.cos(a), math.sin(a)) for a in (leaving, arriving))
        join = smooth_join(start, out, end, home)
        assert degrees_between(join.start_tangent, out) < 1e-6
        assert degrees_between(join.end_tangent, home) < 1e-6
        assert join.length >= abs(end - start) - SAME_POINT


def test_a_line_of_very_many_curves_is_cut_no_finer():
    many = Chain.line(*(complex(x, x % 2) for x in range(MOST_CURVES + 2)))
    with refusing(BrokenOutline, match="1,000 curves"):
        many.cut_at([0.5])
    fewer = Chain(many.cubics[:MOST_CURVES])
    assert len(fewer.cut_at([0.5]).cubics) == MOST_CURVES + 1
