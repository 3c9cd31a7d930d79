"""Which measurements of a block's body are otherwise in one version of it than in another. Pure."""

from dataclasses import dataclass

from trueup.geometry.errors import BadLength
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.files.records import NodeRecord


@dataclass(frozen=True)
class Remeasured:
    """A body measurement that was taken anew: as it was written before, and as it is now.

    Empty where the block was not, or is no more, drafted from it.
    """

    name: str
    before: str
    after: str

    @property
    def words(self) -> str:
        """Return the measurement, from what to what."""
        return f"{self.name} {self.before or '-'} -> {self.after or '-'}"


def remeasured(
    before: NodeRecord | None, after: NodeRecord | None, unit: Unit
) -> tuple[Remeasured, ...]:
    """Return the measurements of a block that differ between two versions of it.

    Those that are only written otherwise do not; there are none where it is not drafted in both.
    """
    if not (before and after and before.draft and after.draft):
        return ()
    old, new = before.draft.body, after.draft.body
    return tuple(
        Remeasured(name, old.get(name, ""), new.get(name, ""))
        for name in dict.fromkeys((*old, *new))
        if not is_same_length(old.get(name), new.get(name), unit)
    )


def is_drafted_anew(before: NodeRecord | None, after: NodeRecord | None) -> bool:
    """Return whether a block is drafted otherwise in one version of it than in another."""
    return bool(before and after and before.draft and after.draft and before.draft != after.draft)


def is_same_length(one: str | None, other: str | None, unit: Unit) -> bool:
    """Return whether two lengths are one, however they are written; `unit` is a bare number's."""
    if one == other or one is None or other is None:
        return one == other
    try:
        return parse_length(str(one), unit) == parse_length(str(other), unit)
    except BadLength:
        return False
