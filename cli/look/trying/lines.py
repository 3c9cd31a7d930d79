"""The lines of a node that can be picked, and what can act on each."""

from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.trying.acting_on import ActsOn, acting_on
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.sides.parting import one_side


def told_draft(desk: Desk, node: str) -> Draft:
    """Return the geometry of a node by the names that a step is given; raises NoSuchNode."""
    desk.wardrobe.state.node(node)
    return one_side(desk.before(node))


def picked_line(desk: Desk, node: str, line: str) -> tuple[ActsOn, ...]:
    """Return which kinds can act on a line, `piece.edge`, of a node; raises NoSuchName."""
    about = ("acting on", node, line)
    kept = desk.kept.get(about)
    if kept is None:
        found = acting_on(told_draft(desk, node), line, desk.wardrobe.state.unit)
        kept = ({"found": found},)
        desk.kept.keep(about, kept)
    (told,) = kept
    acts = told["found"]
    assert isinstance(acts, tuple)
    return acts
