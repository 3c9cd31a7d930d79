"""Steps on a wardrobe on the disk, and what it holds after them."""

from pathlib import Path
from typing import Any

from tests.lineage.making import change
from trueup.lineage.files.records import Role
from trueup.lineage.proposal import Proposal
from trueup.lineage.wardrobe import Wardrobe

SCOOP = change("scoop-armhole", piece="front", by="20mm")
LITTLE = change("scoop-armhole", piece="front", by="4mm")


def done(proposal: Proposal, wardrobe: Wardrobe) -> Proposal:
    wardrobe.record(proposal)
    return proposal


def corrected(wardrobe: Wardrobe, node: str = "village", by: Any = SCOOP) -> Proposal:
    return done(wardrobe.propose_steps(node, [by], Role.CORRECTION, "it binds"), wardrobe)


def files(folder: Path) -> dict[str, bytes]:
    """Return every file of a wardrobe, git's own among them."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and path.name != "lock"
    }


def prints(wardrobe: Wardrobe, revision: str = "HEAD") -> dict[str, str]:
    evaluator = wardrobe.evaluator_at(revision)
    return {name: evaluator.summary(name).fingerprint for name in evaluator.state.nodes}


def only_open(wardrobe: Wardrobe, node: str) -> str:
    (found,) = wardrobe.state.node(node).open_conflicts
    return found.id
