"""Straight skirts for tests: one, many, and one as the block of a wardrobe."""

from functools import lru_cache

from hypothesis import strategies as st

from trueup.geometry.drafting import draft_block
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.files.records import BlockDraft, NodeRecord, StepRecord

BODY = {"waist": 720.0, "hip": 960.0, "hip-depth": 206.0, "skirt-length": 600.0}
"""WikiEducator, skirt block: waist 72, hip 96, waist to hip 20.6 cm."""

PIECES = ("skirt-front", "skirt-back")


@lru_cache(maxsize=256)
def skirt(
    waist: float = 720.0, hip: float = 960.0, hip_depth: float = 206.0, length: float = 600.0
) -> Draft:
    """Return the straight skirt for a body in mm; the same object for the same body."""
    body = {"waist": waist, "hip": hip, "hip-depth": hip_depth, "skirt-length": length}
    return draft_block("straight-skirt", body)


@st.composite
def skirts(draw: st.DrawFn) -> Draft:
    """Draw straight skirts of realistic bodies, whole mm."""
    hip = draw(st.integers(800, 1300))
    waist = hip - draw(st.integers(200, 300))
    depth, length = draw(st.integers(170, 240)), draw(st.integers(450, 900))
    return skirt(float(waist), float(hip), float(depth), float(length))


def skirt_node(name: str = "skirt", *steps: StepRecord) -> NodeRecord:
    """Return a block that is a straight skirt."""
    body = {each: f"{mm:g}mm" for each, mm in BODY.items()}
    return NodeRecord(name, True, draft=BlockDraft("straight-skirt", body), steps=steps)
