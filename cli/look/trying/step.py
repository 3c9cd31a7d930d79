"""A step that is tried before it is made, whatever it is."""

from collections.abc import Callable
from dataclasses import dataclass

from trueup.lineage.proposal import Proposal
from trueup.lineage.writable import WritableWardrobe

Propose = Callable[[WritableWardrobe], Proposal]


@dataclass(frozen=True)
class TriedStep:
    """A step to try at a node.

    `about` is all that its answer follows from besides the node and the wardrobe. `of` is the step
    of the chain that it changes; None where it adds one.
    """

    node: str
    about: tuple[object, ...]
    propose: Propose
    of: str | None = None
