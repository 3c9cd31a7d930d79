"""The graph of a wardrobe with what has become of the last correction, as one picture."""

from trueup.cli.drawing.graph.graph_key import graph_key
from trueup.cli.drawing.graph.picture import tree_picture
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.opening import OpenToRead
from trueup.cli.render.last_correction import heading_of, last_of, sign_key
from trueup.lineage.chronicle import Chronicle


def lineage_picture(opened: OpenToRead, until: str) -> Scene:
    """Return the graph as it was at a version, with its key, to be looked at by itself."""
    state = opened.state
    last = last_of(Chronicle(opened.wardrobe, until, opened.evaluator), state)
    words = last.words if last else {}
    signs = sign_key(words.values(), is_open=bool(state.open_conflicts))
    title = state.settings.name
    heading = [title, *([heading_of(last, state.unit)] if last else [])]
    return tree_picture(state, title, words, heading=heading, key=[*graph_key(state), *signs])
