"""Which entries a node, an edge, a garment and a wearer have."""

import pytest

from tests.lineage.recording import record_files
from trueup.geometry.errors import NoSuchName
from trueup.lineage.chronicle import Chronicle, selection
from trueup.lineage.chronicle.errors import NoSuchSubject, NoSuchWearer
from trueup.lineage.chronicle.selection import Selection


def subjects(chronicle: Chronicle, *chosen: Selection) -> list[str]:
    return [entry.commit.subject for entry in chronicle.entries(selections=chosen)]


def test_an_edge_has_what_shaped_it_here_and_above(chronicle: Chronicle) -> None:
    armhole = selection.of_edge(chronicle.now, "short", "front.armhole")
    assert subjects(chronicle, armhole) == [
        "Amend village: scoop-armhole",
        "Correct village: scoop-armhole",
        "Draft the block village",
    ]
    neck = selection.of_edge(chronicle.now, "short", "front.neck")
    assert subjects(chronicle, neck) == [
        "Drop from blouse: lower-neck",
        "Style blouse: lower-neck",
        "Draft the block village",
    ]


def test_a_step_taken_back_shaped_an_edge_twice(chronicle: Chronicle) -> None:
    neck = selection.of_edge(chronicle.now, "flat", "front.neck")
    assert subjects(chronicle, neck)[:2] == [
        "Undo: Style flat: lower-neck",
        "Style flat: lower-neck",
    ]


def test_an_edge_anywhere_has_what_shaped_it_where_it_was_made(chronicle: Chronicle) -> None:
    neck = selection.of_edge_anywhere(chronicle.now, "front.neck")
    assert subjects(chronicle, neck) == [
        "Drop from blouse: lower-neck",
        "Undo: Style flat: lower-neck",
        "Style flat: lower-neck",
        "Style blouse: lower-neck",
        "Draft the block village",
    ]


def test_a_garment_has_its_own_entries_and_its_patterns_since_it_was_cut(
    chronicle: Chronicle,
) -> None:
    garment, chosen = selection.subject(chronicle.wardrobe, chronicle.now, "tea-dress")
    assert garment.name == "tea-dress"
    told = subjects(chronicle, chosen)
    assert told[0] == "Drop from blouse: lower-neck"
    assert told[-1] == "Cut tea-dress from short"
    assert "Correct village: scoop-armhole" in told
    assert "Style blouse: lower-neck" not in told
    assert not any("flat" in subject for subject in told)


@pytest.mark.parametrize("name", ["Ana", "ana", "Bea"])
def test_a_wearer_has_the_garments_they_wore_and_what_these_were_cut_from(
    chronicle: Chronicle, name: str
) -> None:
    told = subjects(chronicle, selection.of_wearer(chronicle.now.state, name))
    assert "Note on tea-dress" in told
    assert "Style blouse: lower-neck" in told
    assert not any(each.endswith("flat: raise-cap") for each in told)


def test_two_selections_keep_what_both_keep(chronicle: Chronicle) -> None:
    wearer = selection.of_wearer(chronicle.now.state, "Ana")
    node = selection.of_node(chronicle.now.state.node("blouse"))
    assert subjects(chronicle, wearer, node) == subjects(chronicle, node)
    flat = selection.of_node(chronicle.now.state.node("flat"))
    of_both = subjects(chronicle, wearer, flat)
    assert set(of_both) < set(subjects(chronicle, flat))
    assert of_both == [each for each in subjects(chronicle, wearer) if each in of_both]
    assert "Style flat: raise-cap" not in of_both


def test_a_garment_whose_pattern_is_gone_still_has_its_own_entries(chronicle: Chronicle) -> None:
    wardrobe = chronicle.wardrobe
    record_files(wardrobe, {"patterns/short.toml": None}, "edit", "Throw short away")
    now = Chronicle(wardrobe)
    _, chosen = selection.subject(wardrobe, now.now, "tea-dress")
    assert subjects(now, chosen)[-1] == "Cut tea-dress from short"
    assert subjects(now, selection.of_wearer(now.now.state, "Ana"))


def test_names_that_are_not_there_are_refused_with_the_nearest(chronicle: Chronicle) -> None:
    state = chronicle.now.state
    with pytest.raises(NoSuchSubject, match="try tea-dress"):
        selection.subject(chronicle.wardrobe, chronicle.now, "tea-dres")
    with pytest.raises(NoSuchWearer, match="try Ana, Bea"):
        selection.of_wearer(state, "Zoe")
    with pytest.raises(NoSuchWearer):
        selection.of_wearer(state, "")
    with pytest.raises(NoSuchName, match=r"try front\.neck"):
        selection.of_edge(chronicle.now, "short", "front.nek")
    with pytest.raises(NoSuchName):
        selection.of_edge_anywhere(chronicle.now, "front")
