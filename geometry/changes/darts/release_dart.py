"""release-dart: leave a dart unsewn, so that what it took in becomes ease, gathers or flare."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.earlier.release_dart_1 import FirstReleaseDart
from trueup.geometry.following.redrafting import require_none_that_grows
from trueup.geometry.measuring.gathers import taken_up
from trueup.geometry.pieces.draft import Draft


@kind("release-dart", version=2)
class ReleaseDart(FirstReleaseDart):
    """Leave a dart unsewn: its intake becomes ease, gathers or flare.

    The parts of its edge are joined by a straight line across the mouth, so the edge gains exactly
    the intake, and the piece the cloth between the legs. With `eased` the seam the edge is sewn to
    takes up what it gained: its allowed ease moves by the intake, and a band or cuff that was
    drafted to the edge keeps its length; any other piece drafted to it is dropped first. Notches
    stay at the distance they had from their corner. A double-pointed dart inside a piece is left
    out, and the width there gains its intake.
    """

    def taken_up(self, draft: Draft, edge: str, by: float) -> Draft:
        require_none_that_grows(draft, edge)
        return taken_up(draft, edge, by)
