"""An audit of a wardrobe or of one node: what was done and why, what stands open, what was cut."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from trueup.geometry.amounts import Body
from trueup.lineage.chronicle import selection
from trueup.lineage.chronicle.chronicle import Chronicle
from trueup.lineage.chronicle.entry import Decided, Entry
from trueup.lineage.chronicle.span import ALL, Span
from trueup.lineage.errors import Damaged
from trueup.lineage.evaluation.few_enough import few_enough
from trueup.lineage.evaluation.grafting import Taken
from trueup.lineage.files import graph
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.records import ConflictRecord, NodeRecord
from trueup.lineage.replay.verdicts import Verdict


@dataclass(frozen=True)
class Audit:
    """What an audit tells, all of it at one version of the wardrobe.

    `node` is None for the whole wardrobe. `entries` are the steps in the span, newest first;
    `decisions` those made in it; `conflicts` what stands open now; `garments` those cut from the
    nodes audited and from what derives from them; `unreadable` what is missing from all this;
    `bodies` what the amounts of each node may be bound to; `taken` the steps that it takes over.
    """

    wardrobe: str
    version: str
    node: NodeRecord | None
    nodes: tuple[NodeRecord, ...]
    entries: tuple[Entry, ...]
    conflicts: tuple[ConflictRecord, ...]
    decisions: tuple[Decided, ...]
    garments: tuple[GarmentRecord, ...]
    unreadable: tuple[Damaged, ...]
    bodies: Mapping[str, Body]
    taken: Mapping[str, tuple[Taken, ...]]


def audit(chronicle: Chronicle, node: str | None, span: Span = ALL) -> Audit:
    """Return the audit of a node, or of the whole wardrobe; raises NoSuchNode, TooManyVersions."""
    state = chronicle.now.state
    record = state.node(node) if node else None
    whole = chronicle.wardrobe
    chosen = (selection.of_chain(whole, chronicle.now, record),) if record else ()
    entries = tuple(few_enough(chronicle.entries(span, chosen)))
    told = {entry.commit.id for entry in entries}
    below = graph.below(state.graph, node) | {node} if node else set(state.nodes)
    nodes = (record,) if record else tuple(state.nodes[name] for name in state.in_order)
    return Audit(
        state.settings.name,
        chronicle.wardrobe.resolve(chronicle.until),
        record,
        nodes,
        entries,
        tuple(c for c in state.open_conflicts if node is None or c.arose_at == node),
        tuple(
            each
            for each in chronicle.decisions
            if each.commit.id in told and (node is None or each.conflict.arose_at == node)
        ),
        tuple(
            garment
            for garment in state.garments.values()
            if node is None or garment.pattern in below
        ),
        tuple(error for _, error in sorted(state.unreadable.items())),
        {each.name: chronicle.now.body(each.name) for each in nodes},
        {each.name: chronicle.now.taken_over(each.name) for each in nodes},
    )


def verdict_counts(entry: Entry) -> Mapping[Verdict, int]:
    """Return how many descendants came out of a step with which verdict."""
    return Counter(pattern.verdict for pattern in entry.effect.patterns)
