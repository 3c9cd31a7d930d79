"""At which steps the geometry of a node became another."""

from pathlib import Path

import pytest

from tests.lineage.recording import undo
from trueup.geometry.changes import read_change
from trueup.geometry.changes.base import kind_named
from trueup.geometry.units import Unit
from trueup.lineage.errors import UnknownRevision
from trueup.lineage.files.records import BlockDraft, ParentRecord, Role
from trueup.lineage.last_change import before_last_change
from trueup.lineage.versions import versions
from trueup.lineage.wardrobe import Wardrobe

BODY = {"bust": "88cm", "waist": "68cm", "back-length": "38cm", "sleeve-length": "54cm"}


def lowered(wardrobe: Wardrobe, node: str, by: str) -> str:
    values = {"piece": "front", "by": by}
    change = read_change(kind_named("lower-neck"), values, Unit.MILLIMETRE)
    return wardrobe.record(wardrobe.propose_steps(node, [change], Role.STYLE))


def ids(wardrobe: Wardrobe, node: str, most: int = 99, until: str = "HEAD") -> tuple[str, ...]:
    return tuple(commit.id for commit in versions(wardrobe, [node], most, until)[node])


@pytest.fixture
def wardrobe(tmp_path: Path):
    with Wardrobe.start(tmp_path / "w", "w", "cm") as started:
        started.record(started.propose_block("village", BlockDraft("bust-proportion", BODY)))
        started.record(started.propose_child("blouse", [ParentRecord("village")]))
        started.record(started.propose_child("vest", [ParentRecord("village", ("back",))]))
        yield started


def test_the_step_that_made_a_node_is_its_first_version(wardrobe):
    made, blouse, vest = (commit.id for commit in reversed(list(wardrobe.history())[:3]))
    assert ids(wardrobe, "village") == (made,)
    assert ids(wardrobe, "blouse") == (blouse,)
    assert ids(wardrobe, "vest") == (vest,)


def test_a_step_counts_where_it_arrives_and_nowhere_else(wardrobe):
    above = lowered(wardrobe, "village", "5mm")
    below = lowered(wardrobe, "blouse", "20mm")
    assert ids(wardrobe, "village")[:-1] == (above,)
    assert ids(wardrobe, "blouse")[:-1] == (below, above)
    assert len(ids(wardrobe, "vest")) == 1  # it takes no front


def test_a_step_taken_back_is_a_version_as_well(wardrobe):
    made = lowered(wardrobe, "village", "5mm")
    undo(wardrobe)
    assert ids(wardrobe, "blouse")[:-1] == (wardrobe.head, made)


def test_only_so_many_are_looked_for(wardrobe):
    made = [lowered(wardrobe, "village", f"{amount}mm") for amount in (2, 3, 4)]
    assert ids(wardrobe, "blouse", most=2) == (made[2], made[1])
    assert ids(wardrobe, "blouse", most=0) == ()


def test_they_can_be_told_of_an_earlier_version(wardrobe):
    first = lowered(wardrobe, "village", "2mm")
    lowered(wardrobe, "village", "3mm")
    assert ids(wardrobe, "blouse", until=first)[0] == first
    with pytest.raises(UnknownRevision):
        ids(wardrobe, "blouse", until="no-such-version")


def test_before_the_newest_version_the_node_was_as_its_last_change_found_it(wardrobe):
    lowered(wardrobe, "village", "2mm")
    newest = versions(wardrobe, ["blouse"], 1)["blouse"][0]
    before = before_last_change(wardrobe, wardrobe.evaluator_at("HEAD"), "blouse", "HEAD")
    assert newest.parents[0] == before
