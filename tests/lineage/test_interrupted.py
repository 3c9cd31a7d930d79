"""Two at work at once, a full disk, a kill in mid-step: the wardrobe is as before or as after."""

from pathlib import Path

import pytest

from tests.lineage.recording import undo
from tests.lineage.stepping import LITTLE, SCOOP, corrected, files, prints
from trueup.lineage.errors import CannotWrite, MovedOn
from trueup.lineage.files.records import Role
from trueup.lineage.store.writing import index, step
from trueup.lineage.wardrobe import Wardrobe


def test_what_another_wrote_since_it_was_read_is_not_written_over(folder: Path, wardrobe: Wardrobe):
    _ = wardrobe.state
    with Wardrobe.open(folder) as other:
        corrected(other, "village", LITTLE)
    proposal = wardrobe.propose_steps("village", [SCOOP], Role.CORRECTION)
    with pytest.raises(MovedOn):
        wardrobe.record(proposal)
    assert len(wardrobe.state.node("village").steps) == 1
    corrected(wardrobe, "village", SCOOP)
    assert len(wardrobe.state.node("village").steps) == 2


@pytest.mark.parametrize("moment", ["while it is written", "before the branch moves"])
def test_a_step_the_disk_has_no_room_for_leaves_all_as_it_was(
    folder: Path, wardrobe: Wardrobe, monkeypatch: pytest.MonkeyPatch, moment: str
):
    proposal = wardrobe.propose_steps("village", [SCOOP], Role.CORRECTION)
    before, were = files(folder), prints(wardrobe)

    def full(*_: object, **__: object) -> None:
        raise CannotWrite("the disk", "No space left on device")

    name = "record" if moment == "while it is written" else "move_branch"
    with monkeypatch.context() as patched:
        patched.setattr(step, name, full)
        with pytest.raises(CannotWrite):
            wardrobe.record(proposal)
    kept = {name: text for name, text in files(folder).items() if "objects" not in name}
    assert kept == {name: text for name, text in before.items() if "objects" not in name}
    with Wardrobe.open(folder) as again:
        assert prints(again) == were
        assert again.hand_edits() == ()
        corrected(again)


def test_a_kill_between_the_branch_and_the_files_loses_nothing(
    folder: Path, wardrobe: Wardrobe, monkeypatch: pytest.MonkeyPatch
):
    class Killed(BaseException):
        pass

    def killed(*_: object, **__: object) -> None:
        raise Killed

    proposal = wardrobe.propose_steps("village", [SCOOP], Role.CORRECTION)
    with monkeypatch.context() as patched:
        patched.setattr(index, "bring", killed)
        with pytest.raises(Killed):
            wardrobe.record(proposal)
    with Wardrobe.open(folder) as again:
        assert again.hand_edits() == ()
        assert {n.name: again.state.node(n.name) for n in proposal.nodes} == {
            n.name: n for n in proposal.nodes
        }
        assert undo(again).subject == "Correct village: scoop-armhole"
