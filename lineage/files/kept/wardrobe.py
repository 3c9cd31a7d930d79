"""A whole wardrobe as it was read, without what its nodes say."""

from collections.abc import Collection

from msgspec import Struct

from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.kept.kin import Kin
from trueup.lineage.files.records import Settings


class KeptWardrobe(Struct, frozen=True):
    """What a version holds whose files all could be read: nothing in it was edited by hand.

    `tree` is git's id of all its files, which `files` lists with the ids of their content;
    `special` are those that are no plain files, with mode and id. `kin` tells of its nodes, in the
    order of their files, and `in_order` has parents before children.
    """

    tree: str
    files: dict[str, str]
    special: dict[str, tuple[str, str]]
    kin: dict[str, Kin]
    in_order: tuple[str, ...]
    settings: Settings
    garments: dict[str, GarmentRecord]
    bodies: dict[str, BodyRecord]

    def is_of(self, files: dict[str, str], special: dict[str, tuple[str, str]]) -> bool:
        """Return whether these are exactly its files."""
        return files == self.files and special == self.special

    def changed_in(self, files: dict[str, str], edits: Collection[str]) -> set[str]:
        """Return the files that are others, or are not there, in another listing or by edits."""
        if files == self.files:
            return set(edits)
        return {path for path, _ in files.items() ^ self.files.items()} | set(edits)
