"""The trouser block: a front and a back by measurements, each leg laid along its crease. mm.

Every width is a share of waist or hip plus a constant; depths and lengths are as measured. The
crease runs down the middle of the leg at knee and hem, and the grain along it.

Source of the front: the plain front draft shown on the Bespoke Cutter's page "Basic trouser draft"
(movsd.com), seat 100, waist 84, inside leg 76, knee 52, bottoms 44 cm: centre a twelfth of the seat
beside the crease, the fork another twelfth, a quarter of the seat from there to the side, the knee
5 cm above the middle of the inside leg. The waist of a woman needs darts, which it has not: these,
and the whole back, are common practice, no source.

Trued beyond it: the fork of the back lies so low that both inseams are alike, its side begins so
high that both sides are; waist, crotch and hem run on smoothly across the seams, with darts closed.
"""

from collections.abc import Mapping

from trueup.geometry.drafting.base import BodyMeasurement, DraftingSystem
from trueup.geometry.drafting.measurements import HIP, HIP_DEPTH, WAIST
from trueup.geometry.drafting.mirrored import mirrored
from trueup.geometry.drafting.trousers.frame import TrouserFrame
from trueup.geometry.drafting.trousers.panel import BACK, FRONT
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam

_SEAMS = (
    Seam("trouser-side-seam", (Run(FRONT, "side"),), (Run(BACK, "side"),)),
    Seam("inseam-seam", (Run(FRONT, "inseam"),), (Run(BACK, "inseam"),)),
)
_JOINS = (
    Join("trouser-waist-at-side", (FRONT, "waist", "waist-side"), (BACK, "waist", "waist-side")),
    Join("trouser-hem-at-side", (FRONT, "hem", "hem-side"), (BACK, "hem", "hem-side")),
    Join("trouser-hem-at-inseam", (FRONT, "hem", "hem-inseam"), (BACK, "hem", "hem-inseam")),
    Join("crotch-at-inseam", (FRONT, "crotch", "fork"), (BACK, "crotch", "fork")),
)


def _draw(body: Mapping[str, float]) -> Draft:
    frame = TrouserFrame(
        waist=body["waist"],
        hip=body["hip"],
        hip_depth=body["hip-depth"],
        body_rise=body["body-rise"],
        inside_leg=body["inside-leg"],
        trouser_hem=body["trouser-hem"],
    )
    front = frame.front()
    back = frame.back().matching(front)
    return Draft((front.piece(), mirrored(back.piece(), 0.0)), _SEAMS, _JOINS)


TROUSERS = DraftingSystem(
    "trousers",
    "trousers with a waist dart in front and two behind, cut to the waist",
    (
        WAIST,
        HIP,
        HIP_DEPTH,
        BodyMeasurement(
            "body-rise",
            "height of the waist above the seat, sitting",
            200,
            400,
            standard="body rise",
        ),
        BodyMeasurement(
            "inside-leg", "length from crotch to floor or hem", 550, 1000, standard="inside leg"
        ),
        BodyMeasurement("trouser-hem", "girth of the finished trouser leg at its hem", 220, 900),
    ),
    _draw,
)
