"""A node evaluated as of an old commit comes out as it did then."""

import subprocess
from pathlib import Path

import pytest

from tests.lineage.making import change
from tests.lineage.recording import undo
from tests.lineage.stepping import corrected, done, only_open, prints
from trueup.lineage.files.records import ParentRecord, Role
from trueup.lineage.wardrobe import Wardrobe


def test_every_node_comes_out_as_it_did_at_every_commit(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    then: dict[str, dict[str, str]] = {}
    with Wardrobe.open(folder) as wardrobe:

        def note() -> None:
            then[wardrobe.head] = prints(wardrobe)

        note()
        made = corrected(wardrobe).edit.steps[0].id
        note()
        done(wardrobe.propose_decision(only_open(wardrobe, "flat"), "hold"), wardrobe)
        note()
        puff = change("raise-cap", by="20mm", gathers="60mm")
        both = [ParentRecord("blouse", ("front", "back")), ParentRecord("flat", ("sleeve",))]
        done(wardrobe.propose_child("both", both), wardrobe)
        done(wardrobe.propose_steps("short", [puff], Role.STYLE), wardrobe)
        note()
        done(wardrobe.propose_amend("village", made, {"by": "12mm"}), wardrobe)
        note()
        path = folder / "wardrobe.toml"
        path.write_text(path.read_text().replace('"mm"', '"cm"'))
        wardrobe.take_up_hand_edits()
        note()
        undo(wardrobe)
        done(wardrobe.propose_drop("village", made), wardrobe)
        note()
    assert len(then) == 7
    subprocess.run(["git", "-C", folder, "gc", "-q", "--prune=now"], check=True)
    clone = tmp_path / "clone"
    subprocess.run(["git", "clone", "-q", folder, clone], check=True)
    monkeypatch.setenv("TRUEUP_CACHE", str(tmp_path))  # where nothing is kept yet
    for place in (folder, clone):
        with Wardrobe.open(place) as again:
            for commit, expected in then.items():
                assert prints(again, commit) == expected
