"""Verbs that read: what they say, and that they write nothing."""

from pathlib import Path
from typing import Any

import pytest

from trueup.cli.verbs import VERBS

READING = {
    "check": ("blouse",),
    "measure": ("blouse",),
    "walk": ("blouse",),
    "tree": (),
    "origin": ("blouse",),
    "history": ("blouse",),
    "conflicts": (),
}


@pytest.mark.parametrize("verb", READING)
@pytest.mark.parametrize("form", [(), ("--json",)])
def test_reading_writes_nothing(corrected: Any, verb: str, form: tuple[str, ...]) -> None:
    before = corrected.contents()
    answer = corrected(verb, *READING[verb], *form)
    assert answer.code in (0, 1)
    assert answer.out
    assert answer.err == ""
    assert corrected.contents() == before


def test_measures_are_read_by_name_or_by_piece(trueup: Any) -> None:
    assert "front.shoulder  12.7 cm" in trueup.made("measure", "village", "front.shoulder").out
    names = trueup.made("measure", "village", "sleeve", "--json").document["measures"]
    assert names
    assert all(name.startswith("sleeve.") for name in names)


def test_an_earlier_version_is_read_as_it_was(corrected: Any) -> None:
    now = corrected.made("measure", "village", "front.armhole", "--json").document["measures"]
    then = corrected.made("measure", "village", "front.armhole", "--as-of", "HEAD~1", "--json")
    assert then.document["measures"]["front.armhole"] < now["front.armhole"]
    assert corrected("check", "village", "--as-of", "HEAD~1").code == 0
    assert corrected("walk", "village", "--as-of", "HEAD~1").code == 0
    assert corrected("origin", "village", "--as-of", "HEAD~1").code == 0
    first = corrected.made("tree", "--as-of", "HEAD~9", "--json").document
    assert len(first["nodes"]) < 5


def test_check_names_the_conflict_and_where_it_settles(corrected: Any) -> None:
    answer = corrected("check", "blouse")
    assert answer.code == 1
    assert "! error: the front part of the sleeve cap holds 1.9 cm too little" in answer.out
    assert "at easy, inherited" in answer.out
    assert "conflicts easy" in answer.out.splitlines()[-1]


def test_walking_a_seam_reads_off_both_sides(trueup: Any) -> None:
    out = trueup.made("walk", "village", "side-seam").out
    assert "front.side" in out
    assert "over back.side" in out
    assert "+ matches" in out
    assert "armhole-seam" not in out


def test_conflicts_are_listed_parents_first_and_exit_with_1(corrected: Any) -> None:
    answer = corrected("conflicts", "--json")
    assert answer.code == 1
    places = [each["arose_at"] for each in answer.document["conflicts"]]
    assert places == sorted(places, key=["village", "easy", "own", "vest"].index)
    assert set(places) == {"village", "easy", "own", "vest"}


def test_conflicts_of_a_node_show_those_it_inherits(corrected: Any) -> None:
    answer = corrected("conflicts", "blouse", "--json")
    assert answer.document["conflicts"] == []
    at_easy = corrected("conflicts", "easy", "--json").document["conflicts"]
    assert answer.document["inherits"] == [at_easy[0]["id"]]
    assert answer.code == 1


def test_no_conflict_is_no_failure(trueup: Any) -> None:
    answer = trueup("conflicts")
    assert answer.code == 0
    assert answer.out == "No conflict is open.\n"


def test_settled_conflicts_are_shown_only_when_asked_for(corrected: Any) -> None:
    one = corrected("conflicts", "own", "--json").document["conflicts"]
    doubled = next(each["id"] for each in one if each["kind"] == "doubled")
    corrected.made("decide", doubled, "accept", "--why", "both are wanted")
    now = corrected("conflicts", "own", "--json").document["conflicts"]
    assert doubled not in [each["id"] for each in now]
    everything = corrected("conflicts", "--all", "--json").document["conflicts"]
    decided = next(each for each in everything if each["id"] == doubled)
    assert decided["decisions"][0]["why"] == "both are wanted"
    assert "(accept): both are wanted" in corrected("conflicts", "own", "--all").out


def test_origin_names_the_node_and_the_step(corrected: Any) -> None:
    document = corrected.made("origin", "blouse", "front.shoulder", "--json").document
    (edge,) = document["edges"]
    assert (edge["node"], edge["step"]["kind"]) == ("easy", "shorten-shoulder")
    (drafted,) = corrected.made("origin", "blouse", "back.side", "--json").document["edges"]
    assert (drafted["node"], drafted["step"]) == ("village", None)


def test_the_chain_of_a_node_is_told_with_the_ids_of_its_steps(trueup: Any) -> None:
    out = trueup.made("history", "own").out
    assert trueup.step_of("own") in out
    assert "hollow the armhole" in out
    assert "piece front, by 0.4 cm" in out
    assert "Derive the pattern own from village" in out
    assert "blouse" not in out


def test_a_step_taken_back_is_marked(corrected: Any) -> None:
    corrected.made("undo")
    out = corrected.made("history", "--last", "2").out
    assert "Correct village: hollow the armhole (taken back)" in out
    assert len(corrected.made("history", "--last", "2", "--json").document["history"]) == 2


def test_the_tree_shows_who_derives_from_whom(corrected: Any) -> None:
    corrected.made("derive", "mix", "--from", "blouse:front,back", "--from", "own:sleeve")
    assert corrected.made("tree").out.splitlines() == [
        "village  (block; ! 1 open conflict)",
        "|- easy  (block; ! 1 open conflict)",
        "|  `- blouse",
        "|     `- mix  (takes front, back; sleeve from own)",
        "|- own  (! 2 open conflicts)",
        "`- vest  (takes front, back; ! 1 open conflict)",
    ]


def test_an_export_is_written_in_full_and_not_over_another_file(
    trueup: Any, tmp_path: Path
) -> None:
    file = tmp_path / "blouse.svg"
    trueup.made("export", "blouse", str(file))
    drawn = file.read_text()
    assert 'id="front.armhole' in drawn
    file.write_text("mine")
    answer = trueup("export", "blouse", str(file))
    assert answer.code == 2
    assert file.read_text() == "mine"
    trueup.made("export", "blouse", str(file), "--force")
    assert file.read_text() == drawn
    assert [each.name for each in tmp_path.glob(".trueup-*")] == []


def test_every_verb_is_listed_in_its_place(anywhere: Any) -> None:
    out = anywhere("--help").out
    places = [out.index(f"\n  {verb} ") for verb in VERBS]
    assert places == sorted(places)


def test_all_are_checked_a_line_each(corrected: Any) -> None:
    answer = corrected("check", "--all")
    assert answer.code == 1
    document = corrected("check", "--all", "--json").document
    nodes = {each["node"]: each for each in document["nodes"]}
    assert not document["true"]
    for name, found in nodes.items():
        alone = corrected("check", name, "--json").document
        assert found == alone
        (line,) = [each for each in answer.out.splitlines() if each.startswith(f"{name} ")]
        assert ("+ true" in line) is found["true"]
        assert ("! open" in line) is not found["true"]
    count = sum(each["true"] for each in nodes.values())
    assert f"{count} of {len(nodes)} " in answer.out


def test_one_or_all_is_checked(trueup: Any) -> None:
    assert trueup.made("check", "--all").out.count("+ true") >= 3
    for words in ((), ("village", "--all")):
        refused = trueup("check", *words)
        assert refused.code == 2
        assert "--all" in refused.err
    (trueup.folder / "blocks/village.toml").write_text("not = [toml")
    assert trueup("check", "--all").code == 3
