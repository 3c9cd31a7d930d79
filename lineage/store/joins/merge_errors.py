"""What can keep the work of two makers from being joined; see the tree in `lineage/errors.py`.

BadInput
├── CannotJoin     two versions say what cannot both be true
├── HalfMerged     git stopped in the middle of a merge here
└── NotAClone      a folder that holds no other version of this wardrobe
"""

from dataclasses import dataclass
from pathlib import Path

from trueup.lineage.errors import BadInput, quoted


@dataclass(eq=False)
class CannotJoin(BadInput):
    """Two versions say what cannot both be true and cannot be left open either."""

    place: str
    reason: str
    hint: str

    def __str__(self) -> str:
        return f"{quoted(self.place)} cannot be joined: {quoted(self.reason)}; {quoted(self.hint)}."


@dataclass(eq=False)
class HalfMerged(BadInput):
    """Git stopped in the middle of a merge; its files are neither one version nor the other."""

    folder: Path
    other: str

    def __str__(self) -> str:
        return (
            f"git stopped in the middle of joining {self.other[:10]} into "
            f"{quoted(self.folder)}; finish joining it, or give it up."
        )


@dataclass(eq=False)
class NotAClone(BadInput):
    """A folder was named that holds no version of this wardrobe."""

    folder: Path
    reason: str

    def __str__(self) -> str:
        return (
            f"{quoted(self.folder)} cannot be joined: {quoted(self.reason)}; name the folder "
            "of another clone of this wardrobe, or fetch it with git and name its branch."
        )
