"""Amounts beyond what is recommended at most: facts to be told of, never a refusal. Pure."""

from dataclasses import dataclass

from trueup.geometry.changes.base import Change
from trueup.geometry.changes.declaring import Most
from trueup.geometry.changes.parameters import fields_of
from trueup.geometry.said import Said, said
from trueup.geometry.tolerance import SAME_LENGTH


@dataclass(frozen=True)
class Beyond:
    """An amount of a change that is more than the most that is recommended for it, both in mm.

    `source` is the page that recommends it; empty where it is common practice.
    """

    kind: str
    parameter: str
    amount: float
    most: float
    source: str = ""

    @property
    def says(self) -> Said:
        """Return what there is to say of it."""
        facts = {"kind": self.kind, "parameter": self.parameter}
        amounts = {"amount": abs(self.amount), "most": self.most}
        if self.source:
            return said("beyond-recommended", **facts, **amounts, source=self.source)
        return said("beyond-usual", **facts, **amounts)


def beyond_usual(change: Change) -> tuple[Beyond, ...]:
    """Return the amounts of a change that are more than the most recommended for them."""
    found = []
    for field in fields_of(change):
        most: Most | None = field.metadata.get("most")
        amount = getattr(change, field.name)
        if most is None or amount is None:
            continue
        limit = most.of(amount)
        if abs(amount) > limit + SAME_LENGTH:
            found.append(Beyond(change.kind, field.name, amount, limit, most.source))
    return tuple(found)
