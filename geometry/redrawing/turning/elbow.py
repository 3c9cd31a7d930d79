"""Open a dart at the elbow of a sleeve: the forearm is turned forward, the back seam gains it."""

import math
from dataclasses import dataclass, replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, dot, unit
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.pieces.closed_line import end_to_end, reshaped, smoothed_at
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import SHORTEST_LEG, require_no_dart
from trueup.geometry.redrawing.hems.hem import at_hem
from trueup.geometry.redrawing.sleeves.sleeve import BACK_SEAM, FRONT_SEAM, seams_evened
from trueup.geometry.said import said
from trueup.geometry.tolerance import CLOTH_LEFT

HEM = "hem"

_FAIR = 60.0
"""Both seams are drawn fair over so much to either side of the elbow, mm."""

_TRIES, _NEARER = 12, 1e-9


@dataclass(frozen=True)
class Elbow:
    """Where the elbow of a sleeve is bent: a sewn length from the underarm on both its seams, mm.

    The two places are sewn together; the dart opens at the one of the back seam, and is `long`.
    """

    sleeve: Piece
    down: float
    name: str
    long: float

    def __post_init__(self) -> None:
        back, front = (self.sleeve.edge(name) for name in (BACK_SEAM, FRONT_SEAM))
        for seam in (back, front):
            require_no_dart(seam)
            if not _FAIR / 2 < self.down < seam.length - _FAIR / 2:
                reason = said("line-near-end", left=_FAIR / 2)
                raise DoesNotFit(reason, said("another-place"), edge=seam.name)
        width = abs(self.mouth - self.pivot)
        if not SHORTEST_LEG < self.long < width - CLOTH_LEFT:
            reason = said("dart-across", long=self.long, width=width)
            raise DoesNotFit(reason, said("dart-shorter"), edge=back.name)
        across = polyline((self.mouth, self.pivot))
        for inner in self.sleeve.inner_darts:
            if inner.diamond.intersects(across):
                reason = said("crosses-dart", dart=f"{self.sleeve.name}.{inner.name}")
                raise DoesNotFit(reason, said("another-place"), edge=back.name, dart=inner.name)

    @property
    def mouth(self) -> Point:
        """Return where the dart will open."""
        return self.sleeve.edge(BACK_SEAM).point_at(self.down)

    @property
    def pivot(self) -> Point:
        """Return the place of the front seam about which the forearm is turned."""
        seam = self.sleeve.edge(FRONT_SEAM)
        return seam.point_at(seam.length - self.down)

    def opened(self, by: float) -> Piece:
        """Return the sleeve with a dart of so much intake, mm, its seams as equal as they were."""
        opened = by
        for _ in range(_TRIES):
            made = self._opened(opened)
            intake = made.mouth(self.name).intake
            if abs(intake - by) < _NEARER:
                break
            # Drawn fair with the dart closed, the seam meets it a little nearer or farther out.
            opened *= by / intake
        return made

    def _opened(self, by: float) -> Piece:
        motion = self._turn(by)
        hem = self.sleeve.edge(HEM)
        bent = self.sleeve.with_edges(
            self._back(motion),
            replace(hem, parts=tuple(part.moved(motion) for part in hem.parts)),
            self._front(motion),
        )
        moved = tuple(
            dart if dart.upper.imag <= self.mouth.imag else _moved(dart, motion)
            for dart in bent.inner_darts
        )
        return at_hem(seams_evened(self.sleeve, replace(bent, inner_darts=moved)))

    def _turn(self, by: float) -> Motion:
        radius = abs(self.mouth - self.pivot)
        if by >= radius:
            raise DoesNotFit(said("opens-too-far"), said("use-at-most", by=radius / 2))
        angle = 2 * math.asin(by / (2 * radius))
        onward = self.sleeve.edge(BACK_SEAM).place_at(self.down)[1]
        motion = Motion.turn(self.pivot, angle)
        opens = dot(motion(self.mouth) - self.mouth, onward) > 0
        return motion if opens else Motion.turn(self.pivot, -angle)

    def _back(self, motion: Motion) -> Edge:
        seam = self.sleeve.edge(BACK_SEAM)
        upper, lower = seam.parts[0].split_at(self.down)
        lower = lower.moved(motion)
        middle = (upper.end + lower.start) / 2
        apex = middle + unit(self.pivot - middle) * self.long
        opened = replace(seam, parts=(upper, lower), darts=(Dart(self.name, apex),))

        def fair(line: Chain) -> Chain:
            return smoothed_at(line, self.down, _FAIR)

        return reshaped(opened, fair)

    def _front(self, motion: Motion) -> Edge:
        seam = self.sleeve.edge(FRONT_SEAM)
        lower, upper = seam.parts[0].split_at(seam.length - self.down)
        line = end_to_end([lower.moved(motion), upper])
        return replace(seam, parts=(smoothed_at(line, lower.length, _FAIR),))


def _moved(dart: InnerDart, motion: Motion) -> InnerDart:
    points = (dart.upper, dart.lower, dart.left, dart.right)
    return InnerDart(dart.name, *map(motion, points))
