"""Record the measures of a frozen wardrobe: python tests/frozen/freeze.py tests/frozen/NAME

Write the files of a wardrobe by hand into a new folder, or a new pattern into one that is there.
What is recorded once is never recorded anew: a wardrobe that comes out otherwise later is a
mistake, or wants a new version of a kind.
"""

import json
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.reading import is_node_file, read_node, read_settings
from trueup.lineage.files.records import NodeRecord, replace
from trueup.lineage.files.state import State
from trueup.lineage.loading import SETTINGS_FILE

RECORD = "measures.json"


def state_of(folder: Path) -> State:
    """Return the state that the plain files of a folder hold."""
    settings = read_settings(SETTINGS_FILE, (folder / SETTINGS_FILE).read_bytes())
    paths = sorted(str(path.relative_to(folder)) for path in folder.rglob("*.toml"))
    nodes = [read_node(path, (folder / path).read_bytes()) for path in paths if is_node_file(path)]
    return State(settings, {node.name: _with_drawing(folder, node) for node in nodes})


def _with_drawing(folder: Path, node: NodeRecord) -> NodeRecord:
    if node.traced is None:
        return node
    drawing = (folder / node.drawing_path).read_bytes().decode("utf-8")
    return replace(node, traced=replace(node.traced, drawing=drawing))


def freeze(folder: Path) -> tuple[str, ...]:
    """Record the measures of the nodes that have none yet, and return their names.

    Refuses a node that leaves out one of its steps: it would freeze nothing of that step.
    """
    place = folder / RECORD
    recorded = json.loads(place.read_text()) if place.exists() else {}
    evaluator = Evaluator(state_of(folder))
    fresh = [name for name in evaluator.state.nodes if name not in recorded]
    for name in fresh:
        summary = evaluator.summary(name)
        if summary.problems:
            raise SystemExit(f"{name}: {summary.problems[0].error}")
        recorded[name] = summary.measures
    if fresh:
        place.write_text(json.dumps(recorded, indent=1, sort_keys=True) + "\n")
    return tuple(fresh)


if __name__ == "__main__":
    names = freeze(Path(sys.argv[1]))
    print(f"recorded {', '.join(names)}" if names else "all was recorded already; nothing written")
