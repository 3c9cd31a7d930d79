"""Drafting a block from body measurements, by one of several systems.

To add a system, write its module and put its `DraftingSystem` in the list below; the commands'
options follow from the measurements it names.
"""

from collections.abc import Mapping

from trueup.geometry.drafting.base import BodyMeasurement, DraftingSystem
from trueup.geometry.drafting.bust_proportion import BUST_PROPORTION
from trueup.geometry.drafting.circle_skirt import CIRCLE_SKIRTS
from trueup.geometry.drafting.direct_measure import DIRECT_MEASURE
from trueup.geometry.drafting.straight_skirt import STRAIGHT_SKIRT
from trueup.geometry.drafting.trousers import TROUSERS
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft

SYSTEMS: dict[str, DraftingSystem] = {
    system.name: system
    for system in (BUST_PROPORTION, DIRECT_MEASURE, STRAIGHT_SKIRT, *CIRCLE_SKIRTS, TROUSERS)
}


def system_named(name: str) -> DraftingSystem:
    """Return a drafting system by name; raises NoSuchName with the systems there are."""
    if name not in SYSTEMS:
        raise NoSuchName("drafting system", name, "trueup", tuple(SYSTEMS))
    return SYSTEMS[name]


def draft_block(system: str, body: Mapping[str, float]) -> Draft:
    """Return the block a drafting system draws for a body, its measurements by name in mm.

    Raises NoSuchName for an unknown system or measurement, BadParameter for a measurement that is
    missing, absurd or at odds with the others.

    >>> block = draft_block(
    ...     "bust-proportion",
    ...     {"bust": 830, "waist": 640, "back-length": 380, "sleeve-length": 540},
    ... )
    >>> block.piece_names
    ('front', 'back', 'sleeve')
    """
    return system_named(system).draft(body)


__all__ = ["SYSTEMS", "BodyMeasurement", "DraftingSystem", "draft_block", "system_named"]
