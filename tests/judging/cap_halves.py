"""Caps refitted after random corrections, each half measured by sampling alone.

    python -m tests.judging.cap_halves 700

prints how many halves were left negative, or outside what a set-in sleeve may hold there, by a
refit of the whole cap (the first version of refit-cap) and by one of each half.
"""

import random
import sys
from collections.abc import Iterator

import numpy as np

from tests.builders import block
from tests.judging.sampled import edge_of, length, sampled
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft

BODIES = ((800, 620, 370), (880, 680, 380), (960, 760, 400), (1180, 1000, 430))
FRONT, BACK = (10.0, 18.0), (15.0, 30.0)
"""What each half may hold where the whole may hold 25 to 45 mm: two fifths of it in front, three
behind and there up to two thirds of the most (common practice, no source)."""

TOLERANCE = 1.6


def corrected(dice: random.Random) -> tuple[Draft, Draft]:
    """Return a block as drafted, and after one to five corrections that change its armhole."""
    bust, waist, back = dice.choice(BODIES)
    drafted = draft = block(bust, waist, back)
    for _ in range(dice.randint(1, 5)):
        name, values = dice.choice(_CORRECTIONS)(dice)
        try:
            draft = kind_named(name)(**values).apply(draft)
        except GeometryError:
            continue
    return drafted, draft


_CORRECTIONS = (
    lambda dice: ("scoop-armhole", {"piece": "front", "by": dice.uniform(2, 25)}),
    lambda dice: ("scoop-armhole", {"piece": "back", "by": dice.uniform(2, 15)}),
    lambda dice: ("lower-armhole", {"by": dice.uniform(2, 25)}),
    lambda dice: ("shorten-shoulder", {"by": dice.uniform(2, 12)}),
    lambda dice: ("slope-shoulder", {"by": dice.uniform(-8, 8) or 1.0}),
    lambda dice: ("shift-shoulder", {"by": dice.uniform(2, 10)}),
)


def halves(draft: Draft) -> tuple[float, float]:
    """Return the ease of front and back half, from underarm to crown notch to underarm, mm."""
    sleeve = draft.piece("sleeve")
    (line,) = sampled(sleeve.edge("cap"))
    whole = length(sleeve.edge("cap"))
    (notch,) = (each.at for each in sleeve.notches if each.name == "crown")
    assert notch.distance is not None
    assert abs(line[0] - sleeve.corner("front-underarm")) < 1e-9
    front = notch.distance if notch.corner == "front-underarm" else whole - notch.distance
    armholes = [edge_of(draft, f"{piece}.armhole") for piece in ("front", "back")]
    front_armhole, back_armhole = (length(edge) for edge in armholes if edge)
    return front - front_armhole, whole - front - back_armhole


def kink(draft: Draft) -> float:
    """Return by how many degrees the cap turns where its ends are sewn together."""
    sleeve = draft.piece("sleeve")
    line = {name: sampled(sleeve.edge(name))[0] for name in ("cap", "front-seam", "back-seam")}
    # Both seams laid on one another, downwards: what the two ends of the cap then turn by.
    front = _turn(line["front-seam"][-2] - line["front-seam"][-1], line["cap"][1] - line["cap"][0])
    back = _turn(line["cap"][-2] - line["cap"][-1], line["back-seam"][1] - line["back-seam"][0])
    return float(abs(abs(front) + abs(back) - 180.0))


def _turn(a: complex, b: complex) -> float:
    return float(np.degrees(np.angle(b / a)))


def refits(count: int, version: int, seed: int = 9) -> Iterator[tuple[Draft, float]]:
    """Yield random corrected drafts refitted to the ease they were drafted with, and that ease."""
    dice = random.Random(seed)
    for _ in range(count):
        drafted, draft = corrected(dice)
        ease = sum(halves(drafted))
        how = dice.choice(("width", "height", "both"))
        try:
            yield kind_named("refit-cap", version)(to=ease, how=how).apply(draft), ease
        except GeometryError:
            continue


def outside(ease: float, allowed: tuple[float, float]) -> float:
    """Return how far an ease lies outside what is allowed, mm."""
    return max(allowed[0] - ease, ease - allowed[1], 0.0)


def tally(count: int, version: int) -> tuple[int, int, int, int]:
    """Return how many refits were done, of them with a negative half, outside, and with a kink."""
    done = negative = off = kinked = 0
    for draft, _ in refits(count, version):
        front, back = halves(draft)
        done += 1
        negative += min(front, back) < 0
        off += max(outside(front, FRONT), outside(back, BACK)) > TOLERANCE
        kinked += kink(draft) > 4.0
    return done, negative, off, kinked


if __name__ == "__main__":
    for each in (1, 2):
        done, negative, off, kinked = tally(int(sys.argv[1]), each)
        print(
            f"refit-cap {each}: {done} refits, {negative} with a negative half, "
            f"{off} with a half outside, {kinked} with a kink at the sleeve seam"
        )
