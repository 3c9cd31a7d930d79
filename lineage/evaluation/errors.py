"""What can go wrong with workers on other machines."""

from dataclasses import dataclass

from trueup.lineage.errors import BadInput
from trueup.lineage.errors.root import quoted


@dataclass(eq=False)
class NoCluster(BadInput):
    """Nothing can be evaluated by the workers asked for."""

    address: str
    reason: str
    hint: str

    def __str__(self) -> str:
        return (
            f'The cluster "{quoted(self.address)}" cannot be used: {quoted(self.reason)}; '
            f"{quoted(self.hint)}."
        )
