"""A pattern explained from its block on."""

import pytest

from tests.lineage.making import change
from tests.lineage.stepping import done
from trueup.lineage.chronicle import Chronicle
from trueup.lineage.chronicle.chain import explain
from trueup.lineage.errors import NoSuchNode
from trueup.lineage.files.records import ParentRecord, Role


def test_the_chain_goes_from_the_block_to_the_pattern(chronicle: Chronicle) -> None:
    found = explain(chronicle, "short")
    assert [each.node.name for each in found.chapters] == ["village", "blouse", "short"]
    scoop, refit = found.chapters[0].steps
    assert (
        scoop.words
        == "hollow the armhole of the front by 12 mm at 55% of the way from the shoulder point"
    )
    assert scoop.commit is not None
    assert scoop.commit.subject == "Correct village: scoop-armhole"
    assert scoop.step.why == "a little less"
    (conflict,) = scoop.conflicts
    assert conflict.decisions[0].remedy == "refit-cap"
    assert refit.step.settles == conflict.id


def test_measures_after_each_step_add_up_to_what_it_measures_now(chronicle: Chronicle) -> None:
    found = explain(chronicle, "village")
    now = chronicle.now.summary("village").measures
    names = {each.name for told in found.chapters[0].steps for each in told.measures}
    assert {"front.armhole", "sleeve.cap-ease"} <= names
    for name in names:
        changes = [
            each.change_mm
            for told in found.chapters[0].steps
            for each in told.measures
            if each.name == name
        ]
        drafted = found.chapters[0].starts_with[name]
        assert drafted + sum(changes) == pytest.approx(now[name], abs=0.11)
    moved = {each.name: each for each in found.moved}
    assert moved["front.armhole"].after_mm == now["front.armhole"]
    assert moved["front.armhole"].before_mm == found.chapters[0].starts_with["front.armhole"]


def test_a_parent_that_is_held_is_told_as_it_was_then(chronicle: Chronicle) -> None:
    wardrobe = chronicle.wardrobe
    held = wardrobe.resolve("HEAD~9")
    done(wardrobe.propose_child("old", [ParentRecord("village", hold=held)]), wardrobe)
    first, second = explain(Chronicle(wardrobe), "old").chapters
    assert (first.node.name, first.held) == ("village", held)
    assert first.steps == ()
    assert (second.node.name, second.held) == ("old", None)


def test_pieces_of_two_parents_are_each_compared_with_their_own_block(
    chronicle: Chronicle,
) -> None:
    wardrobe = chronicle.wardrobe
    taken = [ParentRecord("blouse", ("front", "back")), ParentRecord("flat", ("sleeve",))]
    done(wardrobe.propose_child("mixed", taken), wardrobe)
    done(wardrobe.propose_steps("mixed", [change("raise-cap", by="2mm")], Role.STYLE), wardrobe)
    found = explain(Chronicle(wardrobe), "mixed")
    names = [each.node.name for each in found.chapters]
    assert names == ["village", "blouse", "flat", "mixed"]
    height = next(each for each in found.moved if each.name == "sleeve.cap-height")
    assert height.change_mm == pytest.approx(-1.0, abs=0.01)


def test_who_made_a_step_by_hand_is_found_too(chronicle: Chronicle) -> None:
    wardrobe = chronicle.wardrobe
    file = wardrobe.folder / "patterns/flat.toml"
    lower = 'id = "by-hand"\nrole = "style"\nkind = "lower-neck"\npiece = "front"\nby = "4mm"\n'
    file.write_text(f"{file.read_text()}\n[[steps]]\n{lower}")
    with wardrobe.writing():
        wardrobe.take_up_hand_edits()
    told = explain(Chronicle(wardrobe), "flat").chapters[-1].steps[-1]
    assert told.step.id == "by-hand"
    assert told.commit is not None
    assert told.commit.subject.startswith("Edited by hand")


def test_as_of_an_earlier_version(chronicle: Chronicle) -> None:
    earlier = Chronicle(chronicle.wardrobe, "HEAD~1")
    names = [step.words for step in explain(earlier, "blouse").chapters[-1].steps]
    assert names == ["lower the neck of the front by 20 mm"]
    assert explain(chronicle, "blouse").chapters[-1].steps == ()
    with pytest.raises(NoSuchNode):
        explain(chronicle, "nobody")
