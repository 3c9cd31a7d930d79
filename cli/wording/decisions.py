"""Remedies as a maker speaks of them once one was chosen, told from their names alone."""

from types import MappingProxyType

from trueup.lineage.replay.curing.names import (
    ACCEPT,
    DROP_OWN_COPY,
    DROP_STEP,
    FOLLOW,
    HOLD,
    REPEAT_HERE,
    SAME_SHARE,
    SMALLER_STEP,
)

CHOSEN = MappingProxyType(
    {
        ACCEPT: "leave it as it is",
        DROP_OWN_COPY: "take its own copy of the correction out",
        DROP_STEP: "take the step out",
        FOLLOW: "follow the parent again",
        HOLD: "stay on the parent as it was",
        REPEAT_HERE: "make the correction once more on its own line",
        SAME_SHARE: "have the same share of it arrive",
        "refit-cap-height": "refit the sleeve cap in height",
        SMALLER_STEP: "make the step smaller",
    }
)
"""One that makes a change of a kind, and is called by it, is said as that kind is."""
