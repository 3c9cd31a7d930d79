"""Trouser blocks for tests of what is made on them."""

from functools import lru_cache

from hypothesis import strategies as st

from tests.geometry.drafting.bodies import TROUSERS, trouser_bodies
from tests.geometry.drafting.truth import corner_angle
from tests.lineage.making import Bench, child, state
from trueup.geometry.changes.base import Change
from trueup.geometry.drafting import draft_block
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.evaluation.steps import step_from
from trueup.lineage.files.records import BlockDraft, NodeRecord, Role

FRONT, BACK = "trouser-front", "trouser-back"
BOTH = (FRONT, BACK)


@lru_cache(maxsize=1)
def trousers() -> Draft:
    return draft_block("trousers", TROUSERS)


def trouser_drafts() -> st.SearchStrategy[Draft]:
    return trouser_bodies().map(lambda body: draft_block("trousers", body))


def bench(*styles: Change) -> Bench:
    """Return a block of trousers, and a pattern `pants` of it with some styles."""
    body = {name: f"{mm:g}mm" for name, mm in TROUSERS.items()}
    made = NodeRecord("village", True, draft=BlockDraft("trousers", body))
    steps = [step_from(style, Role.STYLE, f"s{n}") for n, style in enumerate(styles)]
    return Bench(state(made, child("pants", *steps)))


def fork_angle(draft: Draft) -> float:
    """Return the angles of front and back at the fork added up: 180 for a smooth crotch."""
    return sum(corner_angle(draft.piece(name), "fork") for name in BOTH)
