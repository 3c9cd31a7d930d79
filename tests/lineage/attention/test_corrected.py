"""What has become of the last correction by now: what was settled is not told of as open.

The judge is what the commands say of the state as it is: which conflicts wait, and where.
"""

from collections.abc import Mapping

from tests.cli.conftest import Trueup
from trueup.lineage.attention.corrected import ByNow as Now
from trueup.lineage.attention.corrected import CameOut, came_out, last_correction
from trueup.lineage.chronicle import Chronicle
from trueup.lineage.replay.verdicts import Verdict
from trueup.lineage.wardrobe import Wardrobe


def by_now(trueup: Trueup) -> Mapping[str, CameOut]:
    with Wardrobe.open(trueup.folder) as wardrobe:
        entry = last_correction(Chronicle(wardrobe), wardrobe.state)
        assert entry is not None
        return came_out(entry, wardrobe.state)


def last(trueup: Trueup) -> str:
    with Wardrobe.open(trueup.folder) as wardrobe:
        entry = last_correction(Chronicle(wardrobe), wardrobe.state)
        return entry.commit.subject if entry else ""


def conflict(trueup: Trueup, node: str, kind: str) -> str:
    """Return the conflict of a kind that waits at a node."""
    found = trueup("conflicts", node, "--json").document["conflicts"]
    return next(each["id"] for each in found if each["kind"] == kind and each["arose_at"] == node)


def agree(trueup: Trueup, found: Mapping[str, CameOut]) -> None:
    """Hold what is said of each pattern against the conflicts that the command lists there."""
    for name, came in found.items():
        listed = trueup("conflicts", name, "--json").document
        own = any(each["state"] == "open" for each in listed["conflicts"])
        assert (came.by_now is Now.WAITS) == own, name
        if not own:
            assert (came.by_now is Now.ABOVE) == bool(listed["inherits"]), name


def test_what_waits_is_told_where_it_arose_and_below_it(trueup):
    found = by_now(trueup)
    assert {name: each.by_now for name, each in found.items()} == {
        **dict.fromkeys(("easy", "vest", "own"), Now.WAITS),
        **dict.fromkeys(("blouse", "stays"), Now.ABOVE),
    }
    agree(trueup, found)


def test_a_conflict_that_was_settled_is_settled_and_what_is_below_it_as_judged(trueup):
    trueup.made("decide", conflict(trueup, "easy", "seam"), "refit-cap")
    found = by_now(trueup)
    assert found["easy"] == CameOut(Verdict.CONFLICT, Now.SETTLED)
    assert found["blouse"] == CameOut(Verdict.CARRIED, Now.JUDGED)
    assert found["vest"].by_now is Now.WAITS
    agree(trueup, found)


def test_what_was_accepted_is_not_told_of_as_waiting(trueup):
    trueup.made("decide", conflict(trueup, "vest", "both-shaped"), "accept")
    found = by_now(trueup)
    assert found["vest"] == CameOut(Verdict.LOST, Now.ACCEPTED)
    agree(trueup, found)


def test_of_two_conflicts_one_that_is_decided_leaves_the_other_open(trueup):
    trueup.made("decide", conflict(trueup, "own", "doubled"), "accept")
    assert by_now(trueup)["own"].by_now is Now.WAITS
    trueup.made("decide", conflict(trueup, "own", "seam"), "accept")
    assert by_now(trueup)["own"] == CameOut(Verdict.DOUBLED, Now.ACCEPTED)


def test_one_that_was_decided_by_staying_is_held_and_waits_again_when_it_follows(trueup):
    decided = conflict(trueup, "vest", "both-shaped")
    trueup.made("decide", decided, "hold")
    assert by_now(trueup)["vest"] == CameOut(Verdict.LOST, Now.HELD)
    trueup("decide", decided, "follow")
    assert by_now(trueup)["vest"].by_now is not Now.HELD
    agree(trueup, by_now(trueup))


def test_a_decision_that_was_taken_back_waits_again(trueup):
    trueup.made("decide", conflict(trueup, "easy", "seam"), "refit-cap")
    trueup.made("undo")
    assert by_now(trueup)["easy"] == CameOut(Verdict.CONFLICT, Now.WAITS)


def test_one_that_stayed_behind_then_and_follows_by_now_is_not_held(trueup):
    decided = conflict(trueup, "easy", "seam")
    trueup.made("decide", decided, "hold")
    trueup.made("correct", "village", "lower-neck", "--piece", "front", "--by", "2mm")
    assert by_now(trueup)["easy"] == CameOut(Verdict.HELD, Now.JUDGED)
    trueup("decide", decided, "follow")
    assert by_now(trueup)["easy"].by_now in (Now.FOLLOWS, Now.WAITS)
    assert by_now(trueup)["easy"].verdict is Verdict.HELD


def test_a_correction_that_was_taken_back_or_out_is_not_the_last(trueup):
    assert last(trueup) == "Correct village: scoop-armhole"
    step = trueup.step_of("village")
    trueup.made("correct", "stays", "lower-neck", "--piece", "front", "--by", "2mm")
    assert last(trueup) == "Correct stays: lower-neck"
    trueup.made("undo")
    assert last(trueup) == "Correct village: scoop-armhole"
    trueup.made("drop", "village", step)
    assert last(trueup) == "Correct own: scoop-armhole"
