"""What a sheet says of its pattern in words: where it comes from, and what is open about it."""

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from trueup.cli.sheet.fitted import fitted_for
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import ConflictRecord
from trueup.lineage.files.state import State
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.replay.standing import inherited_conflicts

SHORT = 8
"""So many letters of a version's id tell it apart."""


@dataclass(frozen=True)
class PrintedVersion:
    """The recorded version a sheet shows; `edited` when edits by hand are part of it as well."""

    commit: str
    date: datetime.date
    edited: bool = False

    def __str__(self) -> str:
        also = ", with edits by hand" if self.edited else ""
        return f"{self.date.isoformat()} {self.commit[:SHORT]}{also}"


@dataclass(frozen=True)
class Facts:
    """A pattern in words. `block` names the block or blocks it stands on; lengths in mm.

    `fitted` says for whom it is: the body and the day it was measured, or the size.
    """

    node: str
    kind: str
    block: str
    version: PrintedVersion
    unit: Unit
    measures: Mapping[str, float]
    conflicts: tuple[ConflictRecord, ...] = ()
    fabric: str = ""
    fitted: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """Return what the sheet is called."""
        return f"{self.node}, {self.kind}"

    @property
    def warning(self) -> str:
        """Return what every page says while something is open; nothing when nothing is."""
        if not self.conflicts:
            return ""
        here = sum(each.arose_at == self.node for each in self.conflicts)
        above = len(self.conflicts) - here
        counted = [
            *([f"{here} of its own"] if here else []),
            *([f"{above} inherited"] if above else []),
        ]
        return f"OPEN CONFLICTS: {', '.join(counted)}"


def facts_of(
    wardrobe: OpenWardrobe, evaluator: Evaluator, node: str, as_of: str | None, fabric: str
) -> Facts:
    """Return what a sheet says of a node; raises NoSuchNode, UnknownRevision."""
    return facts_at(evaluator, node, version_of(wardrobe, as_of), fabric)


def facts_at(evaluator: Evaluator, node: str, version: PrintedVersion, fabric: str = "") -> Facts:
    """Return what a sheet says of a node at a version; raises NoSuchNode."""
    state = evaluator.state
    record = state.node(node)
    conflicts = (*record.open_conflicts, *inherited_conflicts(evaluator, node))
    return Facts(
        node,
        record.kind,
        " and ".join(blocks_of(state, node)),
        version,
        state.unit,
        evaluator.summary(node).measures,
        conflicts,
        " ".join(fabric.split()),
        fitted_for(state, node),
    )


def version_of(wardrobe: OpenWardrobe, as_of: str | None) -> PrintedVersion:
    """Return the version a maker names, the last one unless named."""
    commit = wardrobe.commit("HEAD" if as_of is None else as_of)
    return PrintedVersion(commit.id, commit.when.date(), as_of is None and wardrobe.is_edited)


def blocks_of(state: State, node: str) -> tuple[str, ...]:
    """Return the nearest blocks above a node, its own name where it is the first of its line."""
    found = tuple(dict.fromkeys(_blocks_above(state, node)))
    return found or (node,)


def _blocks_above(state: State, node: str) -> Iterator[str]:
    for parent in state.node(node).parents:
        if parent.name in state.nodes and state.node(parent.name).is_block:
            yield parent.name
        elif parent.name in state.nodes:
            yield from _blocks_above(state, parent.name)


def allowance_words(piece: Piece) -> str:
    """Return whether the cutting line holds seam and hem allowances."""
    wanted = [name for name in piece.edge_names if name != piece.fold]
    without = [name for name in wanted if piece.allowance(name) == 0]
    if not without:
        return "allowances included"
    if len(without) == len(wanted):
        return "no allowances included"
    return f"no allowance on {', '.join(without)}"
