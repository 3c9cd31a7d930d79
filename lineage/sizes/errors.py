"""What a size run refuses."""

from dataclasses import dataclass

from trueup.geometry.said import Said, parts
from trueup.lineage.errors import BadInput, listed, quoted
from trueup.lineage.errors.root import told


@dataclass(eq=False)
class BadTable(BadInput):
    """A size table that does not say what it should, or a size no block can be drafted for."""

    place: str
    reason: Said | str

    @property
    def says(self) -> Said:
        """Return place and reason, and what helps."""
        return parts(f"{quoted(self.place)} is no size table: ", told(self.reason), "; mend it")

    def __str__(self) -> str:
        return f"{self.says}."


@dataclass(eq=False)
class NoOneBody(BadInput):
    """A node whose fit comes from no drafted block, or from several."""

    node: str
    blocks: tuple[str, ...] = ()

    def __str__(self) -> str:
        if not self.blocks:
            return (
                f"{quoted(self.node)} stands on no block drafted from measurements, so no size can "
                "be drafted; graft it onto one that is."
            )
        blocks = listed(self.blocks)
        return (
            f"{quoted(self.node)} takes its fit from several drafted blocks ({blocks}); graft it "
            "onto one of them first."
        )


@dataclass(eq=False)
class NoSizes(BadInput):
    """A node of which no size was made."""

    node: str

    def __str__(self) -> str:
        return f"{quoted(self.node)} has no sizes yet; make them from a size table."
