"""A garment altered by two makers in two clones, joined by the real command: its cloth is one."""

from typing import Any

import pytest

from tests.cli.commands.garments.test_altered import ALTERED, CUT, SCOOP, cut, outline, record
from tests.cli.commands.upkeep.two_makers import assert_whole, git, mend, node
from tests.cli.conftest import Trueup
from tests.cli.trouble.test_bad_input import refused

__all__ = ["cut"]


@pytest.fixture
def ours(cut: Any) -> Any:
    return cut


def alter(wardrobe: Any) -> None:
    wardrobe.made("garment", "blouse-1", "--status", "altered")


def test_what_the_other_altered_comes_in_with_its_cloth(ours: Trueup, theirs: Trueup) -> None:
    theirs.made(*SCOOP)
    alter(theirs)
    ours.made("style", "vest", "lengthen", "--by", "1cm")
    mend(ours, theirs)
    assert record(ours)["altered_to"] == record(theirs)["altered_to"]
    assert (ours.folder / ALTERED).read_bytes() == (theirs.folder / ALTERED).read_bytes()
    assert ours.made("alter", "blouse-1", "--json").document["as_wanted"]
    assert_whole(ours)


def test_altered_by_both_to_one_version_it_is_one_fact(ours: Trueup, theirs: Trueup) -> None:
    ours.made(*SCOOP)
    git(theirs.folder, "pull", "--quiet", str(ours.folder))
    for each in (ours, theirs):
        alter(each)
    theirs.made("note", "blouse-1", "armhole-gapes", "--place", "front.armhole")
    mend(ours, theirs)
    assert record(ours)["altered_to"] == record(theirs)["altered_to"]
    assert record(ours)["notes"]
    assert (ours.folder / ALTERED).read_bytes() == (theirs.folder / ALTERED).read_bytes()
    assert_whole(ours)


def test_altered_by_both_to_two_versions_is_refused_until_they_agree(
    ours: Trueup, theirs: Trueup
) -> None:
    ours.made(*SCOOP)
    theirs.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "6mm")
    for each in (ours, theirs):
        alter(each)
    before = ours.contents()
    says = refused(ours, "mend", str(theirs.folder))
    for each in (ours, theirs):
        assert record(each)["altered_to"][:10] in says
    assert "take one of the two alterations back" in says
    assert ours.contents() == before
    assert_whole(ours)
    theirs.made("undo")
    mend(ours, theirs)
    assert len(node(ours, "village").steps) == 2
    assert_whole(ours)


def test_altered_further_by_one_its_latest_cloth_holds(ours: Trueup, theirs: Trueup) -> None:
    ours.made(*SCOOP)
    alter(ours)
    git(theirs.folder, "pull", "--quiet", str(ours.folder))
    theirs.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "4mm")
    alter(theirs)
    ours.made("garment", "blouse-1", "--status", "worn")
    mend(ours, theirs)
    assert record(ours)["status"] == "worn"
    assert record(ours)["altered_to"] == record(theirs)["altered_to"]
    assert (ours.folder / ALTERED).read_bytes() == (theirs.folder / ALTERED).read_bytes()
    before, after = (outline(ours.folder / name, "front") for name in (CUT, ALTERED))
    assert after.area < before.area
    assert ours.made("alter", "blouse-1", "--json").document["as_wanted"]
    assert_whole(ours)
