import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.refusals import refusing
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.sleeve_cap import ScaledCap, cap_height, crown, scaled


def cap() -> Chain:
    return block().edge("sleeve", "cap").parts[0]


def test_the_crown_lies_as_high_as_the_finest_flattening_says() -> None:
    highest = min(point.imag for point in cap().flattened(1e-6))
    assert abs(crown(cap()).rise) == pytest.approx(-highest, abs=1e-5)
    assert cap_height(block().edge("sleeve", "cap")) == pytest.approx(-highest, abs=1e-5)


@given(st.floats(-3, 3), st.floats(-500, 500))
def test_a_cap_lying_askew_on_the_table_has_the_same_crown(turn: float, shift: float) -> None:
    moved = cap().moved(Motion.turn(1j * shift, turn))
    there, here = crown(moved), crown(cap())
    assert there.rise == pytest.approx(here.rise, abs=1e-6)
    assert there.before == pytest.approx(here.before, abs=1e-3)


@given(st.floats(-60, 120), st.floats(-60, 120))
@settings(max_examples=40)
def test_scaling_moves_the_ends_out_alike_and_the_crown_up(out: float, up: float) -> None:
    scaled = ScaledCap(cap(), out, up).chain
    across = (cap().end - cap().start) / abs(cap().end - cap().start)
    assert scaled.start == pytest.approx(cap().start - across * out)
    assert scaled.end == pytest.approx(cap().end + across * out)
    old, new = crown(cap()), crown(scaled)
    assert abs(new.rise) == pytest.approx(abs(old.rise) + up, abs=1e-9)
    assert new.before == pytest.approx(old.before + out, abs=1e-3)


def test_a_cap_scaled_again_is_the_cap_it_was() -> None:
    assert scaled(cap(), 5.0, 3.0) == scaled(cap().reversed().reversed(), 5.0, 3.0)
    assert scaled(cap(), 5.0, 3.0).chain == ScaledCap(cap(), 5.0, 3.0).chain


def test_scaling_alike_in_width_and_height_scales_the_length() -> None:
    # A round cap is its own mirror image, so both halves are scaled by one factor.
    round_cap = smooth_join(-100 + 0j, -1j, 100 + 0j, 1j)
    height = abs(crown(round_cap).rise)
    scaled = ScaledCap(round_cap, 20.0, 0.2 * height).chain
    assert scaled.length == pytest.approx(1.2 * round_cap.length, abs=1e-6)


@given(st.floats(0.0, 1.0), st.floats(-40, 80), st.floats(-40, 80))
@settings(max_examples=40)
def test_a_mark_keeps_its_place_on_the_cap(share: float, out: float, up: float) -> None:
    line, scaled = cap(), ScaledCap(cap(), out, up)
    top, at = crown(line), share * line.length
    across = (line.end - line.start) / abs(line.end - line.start)

    old = (line.point_at(at) - line.start) / across
    half = top.before if old.real <= top.before else top.after
    along = top.before + (old.real - top.before) * (1 + out / half)
    wanted = complex(along, old.imag * (1 + up / abs(top.rise)))

    new = (scaled.chain.point_at(scaled.carried(at)) - line.start) / across
    assert abs(new - wanted) < 1e-4


def test_a_flat_or_closed_cap_has_no_crown() -> None:
    with refusing(DoesNotFit, match="flat"):
        crown(Chain.line(0j, 100 + 0j))
    with refusing(DoesNotFit, match="one"):
        crown(Chain.line(0j, 100j, 0j))


def test_a_cap_keeps_some_width_and_height() -> None:
    for out, up in ((-500.0, 0.0), (0.0, -500.0)):
        with refusing(DoesNotFit, match="take off less"):
            ScaledCap(cap(), out, up)
