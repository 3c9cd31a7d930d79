"""What can go wrong when the history is asked a question. Part of the tree in lineage/errors.py.

BadInput
├── BadMoment     no date and no version
├── NotAfter      two versions in the wrong order
├── NoSuchWearer  nobody of this name wears anything
└── NoSuchSubject neither a node nor a garment
"""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.lineage.errors import BadInput, listed, quoted


@dataclass(eq=False)
class BadMoment(BadInput):
    """A text that names no moment of the wardrobe's history."""

    text: str
    reason: str

    def __str__(self) -> str:
        return (
            f'"{quoted(self.text)}" is no moment of the history: {quoted(self.reason)}; '
            "write a date as 2025-03-01, or take a version from the history, or HEAD."
        )


@dataclass(eq=False)
class NotAfter(BadInput):
    """Two moments of which the second does not come after the first."""

    first: str
    second: str

    def __str__(self) -> str:
        return (
            f"{quoted(self.second)} comes before {quoted(self.first)}, so nothing lies "
            "between them; name the earlier one first."
        )


@dataclass(eq=False)
class NoSuchWearer(BadInput):
    """No garment and no fit note names this wearer."""

    wearer: str
    nearest: Sequence[str]

    def __str__(self) -> str:
        start = f'No garment or fit note names "{quoted(self.wearer)}" as its wearer'
        if not self.nearest:
            return f"{start}: none names a wearer; record one with its garment."
        return f"{start}; try {listed(self.nearest)}."


@dataclass(eq=False)
class NoSuchSubject(BadInput):
    """Neither a node nor a garment has this name."""

    name: str
    nearest: Sequence[str]

    def __str__(self) -> str:
        start = f'There is no block, pattern or garment "{quoted(self.name)}"'
        if not self.nearest:
            return f"{start}: the wardrobe is empty; draft a block."
        return f"{start}; try {listed(self.nearest)}."
