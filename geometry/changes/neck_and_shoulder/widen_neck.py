"""widen-neck: take the neck point out along the shoulder, front and back alike."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.earlier.widen_neck_1 import FirstWidenNeck
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.redrawing.between_tangents import fitted_between_tangents


@kind("widen-neck", version=2)
class WidenNeck(FirstWidenNeck):
    """Take the neck point out along the shoulder seam, on front and back by the same amount.

    Each shoulder becomes shorter by the amount; its shoulder point stays. The neck lines are
    stretched out to the new neck points: where they are curved they keep their angle to the
    shoulder and stay square to the centre, and bend one way as before; a V or a square neck keeps
    its straight lines. The centre of the neck stays: lower it with lower-neck. A negative amount
    narrows the neck; the shoulder is then drawn on straight towards it. A neck so wide and shallow
    that its line would wave, or bend tightly towards the shoulder, is refused.
    """

    finished = True
    fair = True
    leaves_cloth = True

    def redrawn(self, neck: Edge, down: complex, moved: Motion, end: Point) -> Edge:
        fitted = fitted_between_tangents(neck, Motion(), moved, neck.start, end)
        return fitted or super().redrawn(neck, down, moved, end)
