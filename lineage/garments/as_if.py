"""The wardrobe as a fitting that is not made yet would leave it: what would the cloth allow?"""

from trueup.lineage.files.fitting import read_fitting
from trueup.lineage.files.records import Role
from trueup.lineage.files.state import State
from trueup.lineage.writable import WritableWardrobe


def as_if_fitted(
    wardrobe: WritableWardrobe, garment: str, place: str, content: bytes, on: str | None
) -> State:
    """Return a wardrobe as the fitting that a file holds would leave it; nothing is written.

    It is made `on` a node, or on the pattern of the garment. `place` is how the file is called in a
    message. Raises NoSuchGarment, and what `read_fitting` and `propose_steps` raise.
    """
    node = on or wardrobe.state.garment(garment).pattern
    read = read_fitting(place, content, wardrobe.state.unit, wardrobe.evaluator.body(node))
    proposal = wardrobe.propose_steps(node, read.changes, Role.CORRECTION, read.why)
    return wardrobe.state.with_nodes(proposal.nodes)
