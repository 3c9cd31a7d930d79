"""What the chain of a node starts from: a draft, a drawing, or pieces of its parents. Pure."""

from collections import Counter
from collections.abc import Sequence
from functools import lru_cache

from trueup.geometry.calling.own_names import by_own_names
from trueup.geometry.drafting import draft_block
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.sides.assembling import assembled
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.drawings.tracing.trace import kept_draft
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.records import BlockDraft, NodeRecord

_STARTS_AT_HAND = 32


def started(
    node: NodeRecord, parents: Sequence[tuple[Draft, tuple[str, ...] | None]], unit: Unit
) -> Draft:
    """Return what the chain of a node starts from; raises BadRecord, GeometryError.

    `parents` are the drafts of its parents, each with the pieces taken from it: None for all.
    """
    if node.draft:
        return start_of(node.draft, unit)
    if node.traced:
        return kept_draft(node.traced.drawing, node.drawing_path)
    return joined(node.path, parents)


def joined(path: str, parents: Sequence[tuple[Draft, tuple[str, ...] | None]]) -> Draft:
    """Return the pieces of some drafts as one: those named of each, all where None.

    Raises BadRecord, with the `path` of the file that says so, where two give one piece.
    """
    parts = [(draft, pieces or _shared(draft)) for draft, pieces in parents]
    names = [piece for _, pieces in parts for piece in pieces]
    twice = sorted(piece for piece, times in Counter(names).items() if times > 1)
    if twice:
        raise BadRecord(
            path, f"the piece {twice[0]} comes from two parents; say from which", "parents"
        )
    return _together(tuple(parts))


@lru_cache(_STARTS_AT_HAND)  # siblings, and the versions of each, start from the same pieces
def _together(parts: tuple[tuple[Draft, tuple[str, ...]], ...]) -> Draft:
    return assembled(parts)


def _shared(draft: Draft) -> tuple[str, ...]:
    """Return the names of the pieces, left and right by the one they share."""
    return tuple(dict.fromkeys(piece.shared_name for piece in by_own_names(draft).pieces))


def start_of(draft: BlockDraft, unit: Unit) -> Draft:
    """Return what a block is drafted as; a bare number in its measurements takes `unit`.

    Raises NoSuchName, BadLength, BadParameter.
    """
    body = {name: parse_length(str(text), unit) for name, text in draft.body.items()}
    return draft_block(draft.system, body)
