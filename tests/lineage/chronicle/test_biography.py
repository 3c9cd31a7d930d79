"""The biography of an edge, held against lines sampled of chains that were cut off after a step."""

import pytest

from tests.judging.sampled import length
from tests.lineage.making import block, child, state, step
from trueup.geometry.errors import NoSuchName
from trueup.lineage.chronicle.biography import Biographies, Shaping
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import NodeRecord, ParentRecord, Role

SHORTER = step("v1", "shorten-shoulder", Role.CORRECTION, by="6mm")
HOLLOWED = step("v2", "scoop-armhole", Role.CORRECTION, piece="front", by="10mm")
LOWERED = step("e1", "lower-armhole", by="12mm")
NECK = step("e2", "lower-neck", piece="front", by="20mm")
TURNED = step("b1", "rotate-dart", dart="front.bust", edge="front.side", at="35% from underarm")
FULLER = step("b2", "scoop-armhole", piece="front", by="5mm")
PRINCESS = step(
    *("b3", "cut-apart"),
    piece="front",
    begins="armhole",
    ends="hem",
    through="bust waist",
    line="princess",
    parts="front-panel front-side-panel",
)
POCKET_SIDE = step("b4", "scoop-armhole", piece="front", by="3mm", side="left")


def lengths_of_prefixes(*lineage: tuple[str, NodeRecord], piece: str, edge: str) -> list[float]:
    """Return the sampled length of an edge as the block starts, and after each step of all."""
    found: list[float] = []
    for place, (parent, node) in enumerate(lineage):
        above = [each for _, each in lineage[:place]]
        for count in range(len(node.steps) + 1):
            if count == 0 and parent:
                continue  # as its parent ends
            shortened = child(node.name, *node.steps[:count], of=parent)
            cut_off = shortened if parent else block(node.name, *node.steps[:count])
            draft = Evaluator(state(*above, cut_off)).draft(node.name)
            found.append(length(draft.piece(piece).edge(edge)))
    return found


def biography(*nodes: NodeRecord, of: str, edge: str) -> tuple[Shaping, ...]:
    return Biographies().of(Evaluator(state(*nodes)), of, edge)


def test_every_step_that_shaped_a_line_is_told_with_its_length_after_it():
    village = block("village", SHORTER, HOLLOWED)
    easy = child("easy", LOWERED, NECK)
    blouse = child("blouse", TURNED, FULLER, of="easy")
    told = biography(village, easy, blouse, of="blouse", edge="front.armhole")
    assert [(each.node, each.step) for each in told] == [
        ("village", None),
        ("village", SHORTER),
        ("village", HOLLOWED),
        ("easy", LOWERED),
        ("blouse", TURNED),  # the bust dart opened on it, and is closed
        ("blouse", FULLER),
    ]
    judged = lengths_of_prefixes(
        ("", village), ("village", easy), ("easy", blouse), piece="front", edge="armhole"
    )
    at = {None: 0, "v1": 1, "v2": 2, "e1": 3, "e2": 4, "b1": 5, "b2": 6}
    for each in told:
        place = at[each.step.id if each.step else None]
        assert each.length_mm == pytest.approx(judged[place], abs=0.01)
    # What is not told left the length as it was.
    assert judged[4] == pytest.approx(judged[3], abs=0.01)


def test_it_is_told_in_the_words_of_the_trade():
    told = biography(block("village", HOLLOWED), of="village", edge="front.armhole")
    assert told[0].words == ""
    assert told[1].words.startswith("hollow the armhole of the front by 10 mm")


def test_a_line_no_step_touched_has_only_its_beginning():
    told = biography(
        block("village", HOLLOWED), child("blouse", NECK), of="blouse", edge="back.neck"
    )
    assert [(each.node, each.step) for each in told] == [("village", None)]


def test_a_part_of_a_cut_piece_remembers_what_shaped_the_whole():
    village, blouse = block("village", HOLLOWED), child("blouse", FULLER, PRINCESS)
    told = biography(village, blouse, of="blouse", edge="front-side-panel.armhole")
    assert [each.step for each in told] == [None, HOLLOWED, FULLER, PRINCESS]
    assert [each.edge for each in told[:3]] == ["front.armhole"] * 3
    assert told[-1].edge == "front-side-panel.armhole"
    whole = lengths_of_prefixes(
        ("", village), ("village", child("blouse", FULLER)), piece="front", edge="armhole"
    )
    assert [each.length_mm for each in told[:3]] == pytest.approx(whole, abs=0.01)
    parts = Evaluator(state(village, blouse)).draft("blouse")
    own = length(parts.piece("front-side-panel").edge("armhole"))
    assert told[-1].length_mm == pytest.approx(own, abs=0.01)
    assert own < whole[-1]


def test_a_line_that_a_step_made_begins_with_it():
    told = biography(
        block(), child("blouse", PRINCESS), of="blouse", edge="front-side-panel.princess"
    )
    assert [each.step for each in told] == [PRINCESS]


def test_of_a_side_that_differs_what_was_made_on_both_is_told_as_well():
    village, blouse = block("village", HOLLOWED), child("blouse", FULLER, POCKET_SIDE)
    left = biography(village, blouse, of="blouse", edge="left-front.armhole")
    right = biography(village, blouse, of="blouse", edge="right-front.armhole")
    assert [each.step for each in left] == [None, HOLLOWED, FULLER, POCKET_SIDE]
    assert [each.step for each in right] == [None, HOLLOWED, FULLER]
    drawn = Evaluator(state(village, blouse)).draft("blouse")
    for side, told in (("left", left), ("right", right)):
        sampled = length(drawn.piece(f"{side}-front").edge("armhole"))
        assert told[-1].length_mm == pytest.approx(sampled, abs=0.01)


def test_below_a_pattern_that_differs_by_side_its_story_goes_on():
    vest = child("vest", NECK, of="blouse")
    told = biography(
        block(), child("blouse", POCKET_SIDE), vest, of="vest", edge="left-front.armhole"
    )
    assert [each.step for each in told] == [None, POCKET_SIDE]


def test_a_held_pattern_has_the_story_of_the_version_it_stays_on():
    then = state(block(), child("easy", LOWERED))
    held = child("blouse", NECK, of=[ParentRecord("easy", hold="then")])
    now = state(block("village", HOLLOWED), child("easy", LOWERED), held)
    of = Evaluator(now, earlier=lambda commit: {"then": Evaluator(then)}[commit])
    told = Biographies().of(of, "blouse", "front.armhole")
    assert [each.step for each in told] == [None, LOWERED]
    # The same teller, asked of what stands now, mixes neither up.
    teller = Biographies()
    teller.of(of, "blouse", "front.armhole")
    assert [each.step for each in teller.of(of, "easy", "front.armhole")] == [
        *(None, HOLLOWED, LOWERED)
    ]


def test_an_edge_that_is_not_there_is_named():
    with pytest.raises(NoSuchName, match="armpit"):
        biography(block(), of="village", edge="front.armpit")
