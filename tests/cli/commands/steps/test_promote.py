"""trueup promote: a correction moves up, the pattern comes out as it was, the others gain it."""

from typing import Any

import pytest

from tests.cli.conftest import without_commands
from trueup.lineage.wardrobe import Wardrobe


def fingerprint(trueup: Any, node: str) -> str:
    with Wardrobe.open(trueup.folder) as wardrobe:
        return wardrobe.evaluator.summary(node).fingerprint


def corrected_blouse(trueup: Any, *more: str) -> str:
    trueup.made("correct", "blouse", "scoop-armhole", "--piece", "front", "--by", "4mm", *more)
    return str(trueup.step_of("blouse"))


def test_a_promoted_correction_is_one_step_that_leaves_the_pattern_as_it_was(trueup: Any) -> None:
    step, before = trueup.step_of("own"), fingerprint(trueup, "own")
    answer = trueup.made("promote", "own", step, "--why", "all of them gape")
    assert "own comes out exactly as it was." in answer.out
    assert fingerprint(trueup, "own") == before
    with Wardrobe.open(trueup.folder) as wardrobe:
        last = next(iter(wardrobe.history()))
        assert wardrobe.state.node("own").steps == ()
        assert [each.id for each in wardrobe.state.node("village").steps] == [step]
    assert last.subject == "Promote from own to village: scoop-armhole"
    assert "all of them gape" in last.body
    assert last.trailers["Verb"] == "promote"
    trueup.made("undo")
    assert trueup.step_of("own") == step


def test_siblings_gain_it_with_the_usual_verdicts(trueup: Any) -> None:
    document = trueup.made("promote", "own", trueup.step_of("own"), "--json").document
    assert document["promotion"] == {
        "from": "own", "to": "village", "exact": True, "edges": [], "darts": [], "others": [],
    }  # fmt: skip
    found = {each["name"]: each for each in document["patterns"]}
    assert {name: each["verdict"] for name, each in found.items()} == {
        "easy": "carried",
        "blouse": "carried",
        "own": "carried",
        "vest": "lost",
    }
    assert found["own"]["note"] == "comes out as it was"
    assert found["own"]["conflicts"] == []
    assert document["correction"]["verb"] == "promote"


def test_a_preview_writes_nothing_and_foretells_what_is_recorded(trueup: Any) -> None:
    step, before = trueup.step_of("own"), trueup.contents()
    foretold = trueup.made("promote", "own", step, "--preview", "--json").document
    assert trueup.contents() == before
    recorded = trueup.made("promote", "own", step, "--json").document
    assert foretold["correction"].pop("commit") is None
    assert recorded["correction"].pop("commit")
    assert without_commands(foretold) == without_commands(recorded)
    assert "Nothing is written." not in trueup.made("history").out


def test_it_goes_to_the_node_that_last_shaped_the_place(trueup: Any) -> None:
    step = corrected_blouse(trueup)
    document = trueup.made("promote", "blouse", step, "--preview", "--json").document
    assert (document["promotion"]["to"], document["promotion"]["exact"]) == ("easy", True)


def test_a_difference_is_shown_edge_by_edge_before_anything_is_written(trueup: Any) -> None:
    step = corrected_blouse(trueup)
    before = trueup.contents()
    answer = trueup("promote", "blouse", step, "--to", "village")
    assert answer.code == 2
    assert trueup.contents() == before
    assert "blouse comes out different:" in answer.out
    assert "front.armhole  " in answer.out
    assert answer.err.count("\n") == 1
    assert "front.armhole moves by up to 0." in answer.err
    assert "--accept-difference" in answer.err
    told = trueup("promote", "blouse", step, "--to", "village", "--json")
    assert told.code == 2
    (edge,) = told.document["promotion"]["edges"]
    assert edge["edge"] == "front.armhole"
    assert 0 < edge["moved_mm"] < 1
    assert told.document["correction"]["commit"] is None
    trueup.made("promote", "blouse", step, "--to", "village", "--accept-difference")
    measured = trueup.made("measure", "blouse", "front.armhole", "--json").document["measures"]
    assert measured["front.armhole"] == pytest.approx(edge["after_mm"], abs=1e-5)


def shared_dart(trueup: Any) -> str:
    """Let the blouse do with one waist dart what the village does with two; return a correction."""
    trueup.made("style", "blouse", "release-dart", "--dart", "front.waist-side")
    trueup.made("style", "blouse", "deepen-dart", "--dart", "front.waist", "--by", "15mm")
    trueup.made("correct", "blouse", "deepen-dart", "--dart", "front.waist", "--by", "6mm")
    return str(trueup.step_of("blouse"))


def test_where_two_darts_share_the_amount_is_asked_for_and_never_assumed(trueup: Any) -> None:
    step = shared_dart(trueup)
    before = trueup.contents()
    answer = trueup("promote", "blouse", step, "--to", "village")
    assert answer.code == 2
    assert "front.waist and front.waist-side share what front.waist takes in alone" in answer.err
    assert "`--as-is`, `--scaled`, `--by LENGTH`" in answer.err
    assert answer.out == ""
    assert trueup.contents() == before


def test_the_same_amount_a_scaled_one_or_one_of_the_makers_own(trueup: Any) -> None:
    step = shared_dart(trueup)
    words = ("promote", "blouse", step, "--to", "village", "--preview", "--json")
    intake = trueup.made("measure", "blouse", "front.waist.intake", "--json").document["measures"]

    def by(*how: str) -> str:
        (made,) = trueup.made(*words, *how).document["correction"]["steps"]
        return str(made["values"]["by"])

    assert by("--as-is") == "6mm"
    assert by("--by", "1/4in") == "6.35mm"
    assert float(by("--scaled").removesuffix("mm")) == pytest.approx(6, abs=1.5)
    done = trueup("promote", "blouse", step, "--to", "village", "--scaled", "--accept-difference")
    assert done.code == 0
    after = trueup.made("measure", "blouse", "front.waist.intake", "--json").document["measures"]
    assert after["front.waist.intake"] == pytest.approx(intake["front.waist.intake"], abs=1e-3)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("own", "zz"), '"zz" is no step of own'),
        (("nobody", "zz"), 'There is no block or pattern "nobody"'),
        (("own", "OWN", "--to", "nobody"), 'There is no block or pattern "nobody"'),
        (("own", "OWN", "--to", "blouse"), "blouse is none of its ancestors"),
        (("own", "OWN", "--to", "own"), "it stands there already"),
        (("vest", "VEST"), "redraw-edge (VEST) was made for looks"),
        (("own", "OWN", "--as-is", "--scaled"), "Give one of --as-is, --scaled and --by"),
        (("own", "OWN", "--by", "banana"), '"banana" is not a length'),
        (("own", "OWN", "--by", "900mm"), "On village: scoop-armhole cannot be done"),
        (("own", "OWN", "--as-is", "--dart", "front.waist"), "made on no dart"),
    ],
)
def test_what_cannot_be_moved_is_one_sentence_and_nothing_is_written(
    trueup: Any, words: tuple[str, ...], says: str
) -> None:
    ids = {"OWN": trueup.step_of("own"), "VEST": trueup.step_of("vest")}
    before = trueup.contents()
    answer = trueup("promote", *(ids.get(word, word) for word in words))
    assert answer.code == 2
    assert says.replace("VEST", ids["VEST"]) in answer.err
    assert answer.err.count("\n") == 1
    assert answer.out == ""
    assert trueup.contents() == before


def test_not_past_a_pattern_that_is_held(trueup: Any) -> None:
    step = corrected_blouse(trueup)
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    with Wardrobe.open(trueup.folder) as wardrobe:
        held = next(c.id for c in wardrobe.state.open_conflicts if c.arose_at == "easy")
    trueup.made("decide", held, "hold")
    before = trueup.contents()
    answer = trueup("promote", "blouse", step, "--to", "village")
    assert answer.code == 2
    assert "easy stays on an earlier version of village" in answer.err
    assert trueup.contents() == before


def test_edits_by_hand_become_a_step_of_their_own_first(trueup: Any) -> None:
    file = trueup.folder / "patterns/blouse.toml"
    file.write_text(file.read_text().replace('by = "20mm"', 'by = "25mm"'))
    answer = trueup.made("promote", "own", trueup.step_of("own"))
    assert "taken up as a step of their own: patterns/blouse.toml" in answer.err
