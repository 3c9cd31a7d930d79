"""Wardrobes of every format and kind version, which must keep giving their recorded measures."""

import json
import shutil
from pathlib import Path

import pytest

from tests.frozen.freeze import RECORD, freeze, state_of
from trueup.geometry.changes import KINDS
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.reading import is_node_file, read_node
from trueup.lineage.files.writing import node_text

SAME = 1e-6
"""Measures of a frozen wardrobe agree to this, mm: above what another machine's last digit does."""

WARDROBES = sorted(
    path.parent for path in (Path(__file__).parents[1] / "frozen").glob("*/wardrobe.toml")
)


@pytest.fixture(params=WARDROBES, ids=lambda folder: folder.name)
def folder(request: pytest.FixtureRequest) -> Path:
    return Path(request.param)


def test_a_frozen_wardrobe_gives_its_recorded_measures(folder: Path):
    recorded = json.loads((folder / RECORD).read_text())
    evaluator = Evaluator(state_of(folder))
    assert set(recorded) == set(evaluator.state.nodes)
    for name, measures in recorded.items():
        summary = evaluator.summary(name)
        assert summary.problems == ()
        # A measure that a later trueup takes besides is no harm; one that is gone is.
        now = {measure: summary.measures.get(measure) for measure in measures}
        assert now == pytest.approx(measures, abs=SAME)


def test_every_kind_and_version_is_frozen():
    used = {
        (step.kind, step.version)
        for folder in WARDROBES
        for node in state_of(folder).nodes.values()
        for step in node.steps
    }
    missing = sorted(set(KINDS) - used)
    assert not missing, f"{missing}: write a pattern that uses it, then run tests/frozen/freeze.py"


def test_the_files_of_a_frozen_wardrobe_are_kept_as_they_are(folder: Path):
    paths = [str(path.relative_to(folder)) for path in folder.rglob("*.toml")]
    for path in filter(is_node_file, paths):
        content = (folder / path).read_bytes()
        assert node_text(read_node(path, content), content) == content


def test_what_is_frozen_is_never_recorded_anew(tmp_path: Path):
    copy = Path(shutil.copytree(WARDROBES[0], tmp_path / "copy"))
    assert freeze(copy) == ()
    before = (copy / RECORD).read_bytes()
    changed = copy / "patterns" / "puff.toml"
    changed.write_text(changed.read_text().replace("25mm", "26mm"))
    twin = copy / "patterns" / "twin.toml"
    twin.write_text('format = 1\nname = "twin"\n[[parents]]\nname = "puff"\n')
    assert freeze(copy) == ("twin",)
    after = json.loads((copy / RECORD).read_bytes())
    twins = after.pop("twin")
    assert after == json.loads(before)
    assert twins["sleeve.cap-height"] == pytest.approx(after["puff"]["sleeve.cap-height"] + 1)
