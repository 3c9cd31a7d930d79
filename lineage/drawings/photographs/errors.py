"""What is refused of a photograph that a maker wants to trace."""

from dataclasses import dataclass

from trueup.geometry.said import Said, parts
from trueup.lineage.errors import BadInput, quoted
from trueup.lineage.errors.root import told


@dataclass(eq=False)
class CannotMeasure(BadInput):
    """A picture in which nothing can be measured: the file, the reason, and what would help."""

    place: str
    reason: Said | str
    remedy: str

    @property
    def says(self) -> Said:
        """Return the file, the reason, and what helps."""
        named = f"{quoted(self.place)} cannot be measured: "
        return parts(named, told(self.reason), f"; {self.remedy}")

    def __str__(self) -> str:
        return f"{self.says}."


@dataclass(eq=False)
class LibraryMissing(BadInput):
    """The library that looks at photographs is not installed."""

    def __str__(self) -> str:
        return (
            "Photographs and their frame need the library OpenCV, which is not installed; install "
            "it with `pip install 'trueup[photo]'` and try again."
        )
