"""Shapes moved as pieces are."""

import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.affinity import rotate, translate

from tests.builders import block
from trueup.cli.sheet.laying.extents import moved
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.lines.points import Motion

SHIFTS = st.builds(complex, st.floats(-1e3, 1e3), st.floats(-1e3, 1e3))


@given(SHIFTS, st.sampled_from([0.0, 0.5, -2.0]))
def test_a_shape_is_turned_and_shifted(shift: complex, radians: float) -> None:
    shape = cutting_line(block().piece("front"))
    found = moved(shape, Motion(shift=shift).after(Motion.turn(0j, radians)))
    turned = rotate(shape, radians, origin=(0, 0), use_radians=True)
    wanted = translate(turned, shift.real, shift.imag)
    assert shapely.equals_exact(found, wanted, 1e-9)
