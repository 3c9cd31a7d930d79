"""What a maker says of a drawing that is traced, read from its options."""

from trueup.cli.failures import Misused
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.drawings.photographs.frame.strips import REACH
from trueup.lineage.drawings.photographs.kind import is_picture_by_name

_PRINTED = 0.1
"""Share by which printing may change a frame and it still be one."""


def strip_reach(strip: str | None, file: str) -> float:
    """Return how far the squares of a strip reach as it was printed, mm; raises Misused."""
    if strip is None:
        return REACH
    if not is_picture_by_name(file):
        raise Misused("--strip is for photographs; leave it out.")
    reach = parse_length(strip, Unit.MILLIMETRE)
    if abs(reach / REACH - 1) > _PRINTED:
        raise Misused(
            f'--strip "{strip}" is far from the {REACH:g} mm that a strip is printed to: measure '
            "from the outer side of its first black square to that of its last."
        )
    return reach
