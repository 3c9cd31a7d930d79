"""A step on blocks and patterns, worked out to the end: what it would do, say and write."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from trueup.geometry.changes.usual import Beyond
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.files.writing import node_text
from trueup.lineage.recordable import Standing
from trueup.lineage.replay.drafted_anew.measurements import Remeasured
from trueup.lineage.replay.edits import Edit
from trueup.lineage.replay.replay import Replay
from trueup.lineage.trail import message, trailers


@dataclass(frozen=True)
class Proposal:
    """What an edit of nodes would do and write; a `Recordable`.

    `nodes` are those it edits and those whose conflicts it changes; `remeasured` the measurements
    of its block that were taken anew; `beyond` amounts of its steps that are more than is
    recommended; `beside` are other files that the same step writes: garments,
    the drawing of a traced block.
    """

    base: str
    verb: str
    edit: Edit
    replay: Replay
    nodes: tuple[NodeRecord, ...]
    remeasured: tuple[Remeasured, ...] = ()
    beyond: tuple[Beyond, ...] = ()
    beside: Mapping[str, bytes] = field(default_factory=dict)

    @property
    def joins(self) -> None:
        """Return None: it joins nothing."""
        return

    @property
    def message(self) -> str:
        """Return what was done, why, and what it did in mm."""
        return message(self.edit, self.replay)

    @property
    def trailers(self) -> Mapping[str, str]:
        """Return its verb, its node and its steps."""
        return trailers(self.verb, self.edit)

    def writes(self, standing: Standing) -> Mapping[str, bytes | None]:
        """Return the files of its nodes, each with all that its file held besides."""
        texts = standing([node.path for node in self.nodes])
        files = {node.path: node_text(node, texts.get(node.path)) for node in self.nodes}
        return {**files, **self.beside}
