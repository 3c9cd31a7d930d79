"""What the rest of the program asks of a cache, and the cache that keeps nothing."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Protocol

from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.files.kept.wardrobe import KeptWardrobe
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.store.files.lying import Looks

if TYPE_CHECKING:
    from trueup.geometry.pieces.draft import Draft


class Cache(Protocol):
    """Where summaries, drafts and files that were read are kept by what they follow from."""

    def summary(self, key: str) -> Summary | None:
        """Return what was kept under a key, None when nothing was."""

    def draft(self, key: str) -> "Draft | None":
        """Return the geometry kept under a key, None when none was."""

    def keep(self, key: str, summary: Summary, draft: "Draft | None") -> None:
        """Keep what a key evaluates to; the draft only where children will ask for it."""

    def nodes(self, keys: Iterable[str]) -> Mapping[str, NodeRecord]:
        """Return those of these files that were read before, by the key of path and content."""

    def keep_node(self, key: str, node: NodeRecord) -> None:
        """Keep what a file says."""

    def wardrobe(self) -> KeptWardrobe | None:
        """Return the wardrobe as it was read last, None when that was not kept."""

    def keep_wardrobe(self, wardrobe: KeptWardrobe) -> None:
        """Keep the wardrobe as it was read."""

    def looks(self) -> Looks:
        """Return how the working files looked when they were read last."""

    def keep_looks(self, looks: Looks) -> None:
        """Keep how the working files look now."""


class NoCache:
    """A cache that keeps nothing."""

    def summary(self, key: str) -> Summary | None:  # noqa: ARG002
        """Return None."""
        return None

    def draft(self, key: str) -> "Draft | None":  # noqa: ARG002
        """Return None."""
        return None

    def keep(self, key: str, summary: Summary, draft: "Draft | None") -> None:
        """Keep nothing."""

    def nodes(self, keys: Iterable[str]) -> Mapping[str, NodeRecord]:  # noqa: ARG002
        """Return none."""
        return {}

    def keep_node(self, key: str, node: NodeRecord) -> None:
        """Keep nothing."""

    def wardrobe(self) -> KeptWardrobe | None:
        """Return None."""
        return None

    def keep_wardrobe(self, wardrobe: KeptWardrobe) -> None:
        """Keep nothing."""

    def looks(self) -> Looks:
        """Return none."""
        return {}

    def keep_looks(self, looks: Looks) -> None:
        """Keep nothing."""
