"""The way from the units of a drawing to mm on its page: moved, turned, scaled, slanted."""

from dataclasses import dataclass
from math import hypot

from trueup.geometry.lines.points import Point
from trueup.lineage.limits import FARTHEST

STRETCHED = 1e-4
"""Share; more between the two directions and a circle would be no circle."""


@dataclass(frozen=True)
class Affine:
    """x' = a x + c y + e, y' = b x + d y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def __call__(self, p: Point) -> Point:
        """Return where a point comes to lie."""
        x, y = p.real, p.imag
        return complex(self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def after(self, first: "Affine") -> "Affine":
        """Return the way that goes `first` and then this one."""
        corner, across, down = (self(first(p)) for p in (0j, 1 + 0j, 1j))
        across, down = across - corner, down - corner
        return Affine(across.real, across.imag, down.real, down.imag, corner.real, corner.imag)

    @property
    def is_of_a_size(self) -> bool:
        """Return whether it keeps shapes: turned, mirrored and scaled alike in all directions."""
        across, down = hypot(self.a, self.b), hypot(self.c, self.d)
        skew = abs(self.a * self.c + self.b * self.d)
        largest = max(across, down)
        return (
            0 < largest <= FARTHEST
            and abs(across - down) <= STRETCHED * largest
            and skew <= STRETCHED * largest * largest
        )
